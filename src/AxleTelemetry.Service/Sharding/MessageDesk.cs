using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Storage.Rows;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Takes messages apart: what counts goes into the history, the message into the log, what does not count to the refusals.</summary>
internal sealed class MessageDesk(ShardState state)
{
    // Each vehicle has a handful of topics; rubbish must not fill the memory.
    private const int MostTopics = 200_000, LongestKept = 256;

    private readonly Dictionary<string, Addressed> _topics = new(StringComparer.Ordinal);
    private readonly DecodedMessage _message = new();
    private readonly CouplingCheck _couplings = new(state);

    /// <summary>Units that readings or couplings of this batch belong to.</summary>
    public HashSet<VehicleName> Units { get; } = [];

    /// <summary>Trailers behind nobody, with the moment of their latest reading.</summary>
    public HashSet<VehicleName> Loose { get; } = [];

    /// <summary>Units of which a message of this batch could not be taken apart, by a fault of ours, and why.</summary>
    public List<(VehicleName Unit, string Why)> Broken { get; } = [];

    /// <summary>True where anything of this batch came after what follows it had been taken.</summary>
    public bool AnyLate { get; private set; }

    /// <summary>Messages taken, of whatever kind.</summary>
    public long Messages { get; private set; }

    /// <summary>Samples in those that count.</summary>
    public long Samples { get; private set; }

    /// <summary>A further batch begins.</summary>
    public void Begin()
    {
        Units.Clear();
        Loose.Clear();
        Broken.Clear();
        AnyLate = false;
    }

    /// <summary>The configuration changed: who is known is looked up anew.</summary>
    public void Forget() => _topics.Clear();

    /// <summary>Takes a message. Never throws for what it holds.</summary>
    public void Take(in Received message, BatchDraft draft)
    {
        Messages++;
        var received = Codes.At(message.At);
        switch (AddressOf(message.Topic))
        {
            case Addressed.Known known:
                Take(known, message, received, draft);
                break;
            case Addressed.Unknown unknown:
                state.Unknown.Count(unknown.Vehicle);
                draft.Add(new RefusalRow(Codes.Of(unknown.Vehicle), Codes.UnknownVehicleRefusal, received, Kept(message, [])));
                break;
            case Addressed.Nowhere nowhere:
                state.Refusals.Add("", "", received, nowhere.Why);
                draft.Add(new RefusalRow(VehicleKey.Shard, new RowKind((int)nowhere.Why.Reason), received, Kept(message, [nowhere.Why])));
                break;
            default:
                throw new InvalidOperationException("A kind of address that nobody handles.");
        }
    }

    private void Take(Addressed.Known known, in Received message, Moment received, BatchDraft draft)
    {
        var vehicle = known.Vehicle;
        var entry = state.Log.Latest;
        PayloadDecoder.Decode(message.Payload.Span, new Envelope(known.Topic, vehicle.Described.Keys, received, entry.Configuration.AllowedClockSkew), _message);
        var repeated = Count(vehicle, known.Topic.Stream, received, draft);
        var taken = new TakenMessage(received);
        foreach (ref readonly var reading in _message.Readings) taken.Note(reading.At);
        TakeReadings(known, message, ref taken, draft);
        foreach (var coupling in _message.Couplings) Take(vehicle, coupling, message, ref taken, draft);
        if (_message.Presence is { } presence) (vehicle.Presence, taken.IsNews) = (presence, taken.IsNews || vehicle.Presence != presence);
        if (_message.Refusals.Total > 0) Refuse(vehicle, message, received, draft);
        if (_message.RefusedWhole is not null) return;
        Samples += _message.Samples;
        NoteUnit(vehicle, known.Topic.Stream, taken, draft);
        // What was all there before is in the log already; a message that says nothing is kept as a sign of life, once where its running number tells.
        var saysNothing = !repeated && _message.Presence is null && _message.Readings.Length + _message.Couplings.Length + _message.Refusals.Total == 0;
        if (taken.IsNews || saysNothing) draft.Add(taken.Row(known, message));
    }

    /// <summary>True for a message whose running number came before.</summary>
    private bool Count(FollowedVehicle vehicle, UpStream stream, Moment received, BatchDraft draft)
    {
        vehicle.Counts.Messages++;
        vehicle.Counts.Readings += _message.Readings.Length;
        var repeated = _message.Sequence is { } sequence && vehicle.Counts.TakeSequence(stream, sequence, _message.Boot);
        state.AlertDesk.Heard(vehicle, received, draft);
        draft.Touched.Add((vehicle.Name, Codes.Pulse));
        return repeated;
    }

    private void TakeReadings(Addressed.Known known, in Received message, ref TakenMessage taken, BatchDraft draft)
    {
        if (_message.Readings.IsEmpty) return;
        var (vehicle, entry) = (known.Vehicle, state.Log.Latest);
        var history = state.History.Taking(vehicle.Name);
        Exception? unread = null;
        // Looked for as a whole before its readings are, one by one.
        if (history.IsInArchive(taken.Least) && _message.Refusals.Total == 0 && Holds(taken.Row(known, message), ref unread))
        {
            history.Repeat(_message.Readings.Length);
            return;
        }

        var archive = state.Archive.Adding(vehicle.Name, taken.IsWide);
        foreach (ref readonly var reading in _message.Readings)
        {
            if (!state.Readings.Place(vehicle.Name, entry, vehicle.Described, reading, out var placed)) continue;
            var outcome = Take(history, placed, ref unread);
            if (outcome == ReadingOutcome.Repeated) continue;
            taken.IsNews = true;
            if (archive.Add(placed)) draft.Touched.Add((vehicle.Name, Codes.Words));
            AnyLate |= outcome == ReadingOutcome.Late;
        }

        if (unread is { } broken && !UnreadLog.Is(broken)) Break(vehicle.Name, taken.Greatest, broken);
    }

    private bool Holds(InputRow row, ref Exception? unread)
    {
        try
        {
            return state.Archive.Holds(row);
        }
        catch (Exception why) when (why is not OutOfMemoryException)
        {
            unread = why;
            return false;
        }
    }

    /// <summary>What cannot be read of the log keeps nothing from being taken: the second run, which is tried until it can be read, sees what was there before.</summary>
    private static ReadingOutcome Take(in VehicleTaking history, in Reading reading, ref Exception? unread)
    {
        // A disk that did not answer once is not asked for each further reading of a message.
        if (unread is not null) return history.TakeUnseen(reading);
        try
        {
            return history.Take(reading);
        }
        catch (Exception why) when (why is not OutOfMemoryException)
        {
            unread = why;
            return history.TakeUnseen(reading);
        }
    }

    private void Break(VehicleName vehicle, Moment at, Exception broken)
    {
        if (state.History.UnitOf(vehicle, at) is { } unit) Broken.Add((unit, $"{broken.GetType().Name}: {broken.Message}"));
    }

    private void Take(FollowedVehicle vehicle, Messages.Payloads.CouplingStatement stated, in Received message, ref TakenMessage taken, BatchDraft draft)
    {
        if (_couplings.Refuse(vehicle, stated) is { } refusal)
        {
            vehicle.Counts.CouplingsRefused++;
            state.Refusals.Add(vehicle.Name.Fleet, vehicle.Name.Id, taken.Received, refusal);
            draft.Add(new RefusalRow(Codes.Of(vehicle.Name), new RowKind((int)refusal.Reason), taken.Received, Kept(message, [refusal])));
            return;
        }

        taken.Note(stated.At);
        ImmutableArray<VehicleName> trailers = [.. stated.Trailers.Select(id => new VehicleName(vehicle.Name.Fleet, id))];
        var statement = new Domain.Histories.CouplingStatement(vehicle.Name, stated.At, trailers);
        var outcome = state.History.Take(statement);
        if (outcome == FactOutcome.Repeated) return;
        taken.IsNews = true;
        AnyLate = true; // What was stepped after it may have to be run again; whether it has, the marks say.
        draft.Touched.Add((vehicle.Name, Codes.Facts));
        if (outcome is not (FactOutcome.Entered or FactOutcome.ConflictWon)) return;
        foreach (var trailer in trailers)
            if (state.History.UnitOf(trailer, new Moment(long.MaxValue)) is not null) state.Loose.Claimed(trailer, stated.At, draft);
        foreach (var unit in state.History.ConcernedBy(statement))
        {
            if (state.History.LastChangeOf(unit) is { } last) state.Releases.Owe(unit, last.UnixMilliseconds);
            Units.Add(unit);
        }
    }

    private void NoteUnit(FollowedVehicle vehicle, UpStream stream, in TakenMessage taken, BatchDraft draft)
    {
        if (_message.Readings.Length == 0) return;
        vehicle.Marks.Heard(stream, taken.Greatest.UnixMilliseconds);
        if (state.History.UnitOf(vehicle.Name, taken.Greatest) is { } unit)
        {
            Units.Add(unit);
            if (unit != vehicle.Name) state.Loose.Claimed(vehicle.Name, taken.Greatest, draft);
            return;
        }

        Loose.Add(vehicle.Name);
        state.Loose.Take(vehicle, _message.Readings, draft);
    }

    private void Refuse(FollowedVehicle vehicle, in Received message, Moment received, BatchDraft draft)
    {
        state.Refusals.Add(vehicle.Name.Fleet, vehicle.Name.Id, received, _message.Refusals);
        var details = _message.Refusals.Details;
        draft.Add(new RefusalRow(Codes.Of(vehicle.Name), new RowKind((int)details[0].Reason), received, Kept(message, details)));
    }

    private static ImmutableArray<byte> Kept(in Received message, ImmutableArray<Refusal> refusals) =>
        [.. new RefusedBytes(message.Topic.Length <= 512 ? message.Topic : message.Topic[..512], refusals, [.. message.Payload.Span]).Write()];

    private Addressed AddressOf(string topic)
    {
        if (_topics.TryGetValue(topic, out var known)) return known;
        if (_topics.Count >= MostTopics) _topics.Clear();
        var made = Addressed.Of(topic, state);
        if (topic.Length > LongestKept) return made;
        _topics.Add(topic, made);
        return made;
    }
}

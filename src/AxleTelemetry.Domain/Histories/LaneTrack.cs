using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// A powered vehicle's way through time: the lane it is in, with whom, and what is recorded of it. All of it as bytes is a
/// snapshot, from which the same inputs lead to the same state and the same rows.
/// </summary>
internal sealed class LaneTrack
{
    private readonly Func<ImmutableArray<LaneMember>, LaneSetup> _setup;
    private readonly LaneRecorder _recorder;
    private readonly List<LaneOutput> _outputs = [];

    /// <summary>Begins with vehicles of which nothing is known.</summary>
    public LaneTrack(ImmutableArray<LaneMember> members, Func<ImmutableArray<LaneMember>, LaneSetup> setup)
    {
        _setup = setup;
        _recorder = new LaneRecorder(members[0].Vehicle);
        Members = members;
        Lane = new Lane(setup(members));
    }

    /// <summary>The vehicles, powered one first.</summary>
    public ImmutableArray<LaneMember> Members { get; private set; }

    /// <summary>Their lane.</summary>
    public Lane Lane { get; private set; }

    /// <summary>Moment of the latest input, Unix milliseconds; 0 before the first.</summary>
    public long LatestAt { get; private set; }

    /// <summary>Rows of the episodes that are open.</summary>
    public IEnumerable<HistoryRow.Episode> Open => _recorder.Open;

    /// <summary>The latest row of the running account; <c>null</c> before the first.</summary>
    public HistoryRow.Account? Account => _recorder.Account;

    /// <summary>Takes a reading of a body.</summary>
    public void Step(int body, in Reading reading, LaneSaid said)
    {
        Lane.Step(body, reading, _outputs);
        Record(reading.At.UnixMilliseconds, said);
    }

    /// <summary>The vehicles, or what is set for them, are others from now on.</summary>
    /// <param name="members">The vehicles from now on.</param>
    /// <param name="at">The moment.</param>
    /// <param name="former">What is known of vehicles from before.</param>
    /// <param name="said">Receives what follows.</param>
    public void Become(ImmutableArray<LaneMember> members, long at, FormerKnowledge former, LaneSaid said)
    {
        var (before, setup) = (Lane, _setup(members));
        if (LaneHandover.IsOnlyOlder(before.Setup, setup))
        {
            // Work is reckoned by one set of terms in one period.
            var others = before.Setup.Terms != setup.Terms;
            if (others) before.CloseAccount(at, _outputs);
            if (others) Record(at, said);
            Members = members;
            Lane = new Lane(setup);
            Lane.State.CopyFrom(before.State);
            if (others) Lane.OpenAccount(at);
            Record(at, said);
            return;
        }

        LaneHandover.End(before, new Moment(at), _outputs);
        // The episodes that end are of the vehicles that were together until now.
        foreach (var output in _outputs)
            if (output is not LaneOutput.Accounted)
                said.Outputs?.Add((Members, output));
        _recorder.End(this, _outputs, said.Rows);
        _outputs.Clear();
        var aboard = Part(before, members, at, former, said);
        Members = members;
        Lane = new Lane(setup);
        LaneHandover.TakeOver(before, Lane, new Moment(at));
        LaneHandover.Load(Lane, aboard);
        Lane.TellStandIns(at, _outputs);
        foreach (var body in Lane.Setup.Combination.Bodies)
        {
            if (LaneHandover.IsKept(before, body)) continue;
            foreach (var word in former.Words(members[body.Index].Vehicle, at)) Lane.Step(body.Index, word with { At = new Moment(at) }, _outputs);
        }

        Record(at, said);
    }

    /// <summary>Others claim trailers that the unit says hang on it, or do no more.</summary>
    public void Claim(TrailerClaims claims, long at, LaneSaid said)
    {
        if (Lane.State.Load.Claims == (long)claims) return;
        Lane.Claim(claims, at, _outputs);
        Record(at, said);
    }

    /// <summary>Writes everything.</summary>
    public void Write(ByteWriter to)
    {
        LaneMember.Write(Members, to);
        to.Long(LatestAt);
        _recorder.Write(to);
        LaneStateCodec.Write(Lane.State, to);
    }

    /// <summary>Reads everything, or says why not.</summary>
    public static TrackResult Read(ref ByteReader from, Func<ImmutableArray<LaneMember>, LaneSetup> setup)
    {
        var members = LaneMember.Read(ref from);
        if (from.Failed || members.IsEmpty) return new TrackResult.Refused(StateRefusal.CutShort);
        var track = new LaneTrack(members, setup) { LatestAt = from.Long() };
        track._recorder.Read(ref from);
        if (from.Failed) return new TrackResult.Refused(StateRefusal.CutShort);
        return LaneStateCodec.Read(ref from, track.Lane.State) is { } refusal ? new TrackResult.Refused(refusal) : new TrackResult.Restored(track);
    }

    /// <summary>Says what is known to be aboard of those that leave, and finds what is of those that will be together.</summary>
    private BodyPayload[] Part(Lane before, ImmutableArray<LaneMember> members, long at, FormerKnowledge former, LaneSaid said)
    {
        // The same vehicles, other settings: what was measured by the old ones need not be right by the new ones.
        if (members.Select(m => m.Vehicle).SequenceEqual(Members.Select(m => m.Vehicle))) return new BodyPayload[members.Length];
        var (known, were) = (LaneHandover.Aboard(before), Members);
        ImmutableArray<PartedTrailer> left = [.. were.Select((m, i) => new PartedTrailer(m, known[i])).Where(p => p.Payload.IsKnown && members.All(m => m.Vehicle != p.Trailer.Vehicle))];
        if (!left.IsEmpty) said.Rows.Add(new HistoryRow.Parted(new RowKey(were[0].Vehicle, RowKind.Parted, new Moment(at), default), new Moment(at), were, left));
        return [.. members.Select(m => were.IndexOf(m) is var i and >= 0 ? known[i] : were.Any(w => w.Vehicle == m.Vehicle) ? default : former.Payload(m, at))];
    }

    private void Record(long at, LaneSaid said)
    {
        LatestAt = at;
        _recorder.After(this, at, _outputs, said.Rows);
        if (_outputs.Count == 0) return;
        if (said.Outputs is { } outputs)
            foreach (var output in _outputs)
                if (output is not LaneOutput.Accounted) // An account is history, nobody is told of it.
                    outputs.Add((Members, output));
        _outputs.Clear();
    }
}

/// <summary>What came of reading a track.</summary>
internal abstract record TrackResult
{
    private TrackResult() { }

    /// <summary>It goes on from here.</summary>
    public sealed record Restored(LaneTrack Track) : TrackResult;

    /// <summary>It cannot be read.</summary>
    public sealed record Refused(StateRefusal Reason) : TrackResult;
}

/// <summary>What is known of vehicles that come into a lane from before they did.</summary>
/// <param name="Words">What a vehicle last said of its lifts and suspension, up to a moment.</param>
/// <param name="Payload">What was aboard of a trailer when it last left a unit, before a moment or at it; all zero where nothing is known.</param>
internal sealed record FormerKnowledge(Func<VehicleName, long, IEnumerable<Reading>> Words, Func<LaneMember, long, BodyPayload> Payload);

/// <summary>Where a track puts what follows from its inputs.</summary>
/// <param name="Rows">Receives rows of history; a later row replaces an earlier one of the same key.</param>
/// <param name="Outputs">Receives what the lane says, for telling; <c>null</c> where nobody is to be told.</param>
internal sealed record LaneSaid(List<HistoryRow> Rows, List<(ImmutableArray<LaneMember> Members, LaneOutput Output)>? Outputs);

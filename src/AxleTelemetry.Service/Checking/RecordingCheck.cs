using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Checking;

/// <summary>
/// Reads a recording as the service would: every line, every message. What is wrong is told once per vehicle and reason,
/// with the first place, since a device that is wrong is wrong in every message.
/// </summary>
internal sealed class RecordingCheck
{
    // Without a description no key is known: what is refused for that alone says nothing of the message.
    private static readonly KeyTable NoKeys = new([], [], ["normal"]);
    private static readonly ImmutableArray<RefusalReason> OfKeys = [RefusalReason.UnknownSensor, RefusalReason.UnknownAxle, RefusalReason.UnknownMode];

    private static readonly TimeSpan Skew = FleetFiles.AllowedSkew;

    private readonly KnownVehicles _vehicles;
    private readonly DecodedMessage _into = new();
    private readonly RecordingFaults _faults = new();
    private readonly SortedSet<string> _senders = new(StringComparer.Ordinal);
    private readonly SortedSet<string> _strangers = new(StringComparer.Ordinal);
    private long _messages;
    private long _samples;

    private RecordingCheck(KnownVehicles vehicles) => _vehicles = vehicles;

    public static CheckedFile Run(string file, KnownVehicles vehicles)
    {
        var check = new RecordingCheck(vehicles);
        using var stream = File.OpenRead(file);
        foreach (var entry in new RecordingReader(stream).Entries()) check.Take(entry);
        return new CheckedFile(file, "", check.Subject(), [.. check._faults.Told(), .. check.Strangers()]);
    }

    private void Take(RecordingEntry entry)
    {
        switch (entry)
        {
            case RecordingEntry.Unreadable unreadable:
                _faults.AddLine(entry.Line, unreadable.Refusal);
                break;
            case RecordingEntry.Read { Message: var message }:
                _messages++;
                Decode(entry.Line, message);
                break;
            default:
                throw new InvalidOperationException($"No case for {entry.GetType().Name}.");
        }
    }

    private void Decode(long line, RecordedMessage message)
    {
        switch (Topic.Parse(message.Topic))
        {
            case TopicResult.Refused refused:
                _faults.Add("", refused.Refusal.Reason, (line, 1, refused.Refusal));
                break;
            case TopicResult.Named { Topic: var topic }:
                var keys = Name(topic.Vehicle)?.Keys;
                // A recording need not say when a message came: only then is there nothing to hold a time against.
                var received = message.Received ?? new Moment(DateTimeOffset.MaxValue.ToUnixTimeMilliseconds());
                PayloadDecoder.Decode(message.Payload.Span, new Envelope(topic, keys ?? NoKeys, received, Skew), _into);
                Count(line, topic.Vehicle, known: keys is not null);
                break;
            case var other:
                throw new InvalidOperationException($"No case for {other.GetType().Name}.");
        }
    }

    private Described? Name(string vehicle)
    {
        _senders.Add(vehicle);
        var found = _vehicles.Find(vehicle);
        if (found is null) _strangers.Add(vehicle);
        return found;
    }

    private void Count(long line, string vehicle, bool known)
    {
        _samples += _into.Samples;
        foreach (var statement in _into.Couplings)
            foreach (var trailer in statement.Trailers)
                if (_vehicles.Find(trailer) is null)
                    _strangers.Add(trailer);
        if (_into.Refusals.Total == 0) return;
        var details = _into.Refusals.Details;
        foreach (var reason in Enum.GetValues<RefusalReason>())
            if (_into.Refusals.Count(reason) is > 0 and var times && (known || !OfKeys.Contains(reason)))
                _faults.Add(vehicle, reason, (line, times, details.FirstOrDefault(d => d.Reason == reason)));
    }

    private string Subject()
    {
        var from = _senders.Count == 0 ? "" : $" of {string.Join(", ", _senders.Take(5))}{(_senders.Count > 5 ? $" and {_senders.Count - 5} more" : "")}";
        return FormattableString.Invariant($"{_messages} message{(_messages == 1 ? "" : "s")}{from}, {_samples} sample{(_samples == 1 ? "" : "s")}");
    }

    private IEnumerable<FileProblem> Strangers()
    {
        if (_messages == 0 && !_faults.Any)
            yield return new FileProblem { IsWarning = true, Kind = "Empty", Found = "no message", Right = "A recording has one message a line." };
        if (_strangers.Count > 0)
            yield return new FileProblem
            {
                IsWarning = true, Kind = "UnknownVehicle", Path = "topic", Found = $"{string.Join(", ", _strangers.Take(20))}, not described by the files given",
                Right = "Give their vehicle files too, and the names of sensors, axles and modes are checked as well.",
            };
    }
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Turns messages into readings by the configuration that reads them, and a stored message into the very readings it gave
/// when it came. Where a description counts its parts otherwise than the one that holds at a reading's moment, the names decide.
/// </summary>
internal sealed class StoredReadings(ConfigurationLog log)
{
    private readonly DecodedMessage _message = new();

    /// <summary>Adds the readings of a stored message to a list.</summary>
    public void Add(LoggedInput input, List<Reading> to)
    {
        if (input.Row.Kind != Codes.MessageInput && input.Row.Kind != Codes.WideMessageInput) return;
        var vehicle = Codes.Of(input.Row.Vehicle);
        var entry = log.Reading(input.Position.Batch);
        if (entry.Find(vehicle) is not { } described) return;
        var topic = new Topic(vehicle.Fleet, vehicle.Id, (UpStream)input.Row.Stream.Code);
        PayloadDecoder.Decode(input.Row.Bytes.AsSpan(), new Envelope(topic, described.Keys, input.Row.Received, entry.Configuration.AllowedClockSkew), _message);
        foreach (ref readonly var reading in _message.Readings)
            if (Place(vehicle, entry, described, reading, out var placed))
                to.Add(placed);
    }

    /// <summary>Gives a reading by the description that holds at its moment. False where that knows no such part.</summary>
    public bool Place(VehicleName vehicle, ConfigurationLog.Entry readBy, Described described, in Reading reading, out Reading placed)
    {
        placed = reading;
        if (log.Latest.Number == 1) return true;
        var holds = log.At(reading.At);
        // Left out of a configuration, a vehicle keeps what held before.
        if (holds.Number >= readBy.Number || log.KnownUntil(holds, vehicle) is not { } then || ReferenceEquals(then, described)) return true;
        if (Translated(described.Keys, then.Keys, reading) is not { } translated) return false;
        placed = translated;
        return true;
    }

    private static Reading? Translated(KeyTable from, KeyTable to, in Reading reading)
    {
        switch (reading.Kind)
        {
            case ReadingKind.Pressure:
                return Index(from.Sensors, to.Sensors, reading.Key) is { } sensor ? reading with { Key = sensor } : null;
            case ReadingKind.Lift:
                return Index(from.Axles, to.Axles, reading.Key) is { } axle ? reading with { Key = axle } : null;
            case ReadingKind.Condition when (ConditionKey)reading.Key == ConditionKey.SuspensionMode:
                return Index(from.Modes, to.Modes, (int)reading.Value) is { } mode ? reading with { Value = mode } : null;
            case ReadingKind.Condition or ReadingKind.Position:
                return reading;
            default:
                throw new ArgumentOutOfRangeException(nameof(reading), reading.Kind, "Unknown kind.");
        }
    }

    private static ushort? Index(System.Collections.Immutable.ImmutableArray<string> from, System.Collections.Immutable.ImmutableArray<string> to, int index) =>
        to.IndexOf(from[index]) is var found and >= 0 ? (ushort)found : null;
}

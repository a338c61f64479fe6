using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// Where inputs, rows and snapshots are kept: the journal, or memory. It holds every reading that was given to
/// <see cref="FleetHistory.Take(VehicleName, in Reading)"/> before, and every change that was handed out.
/// </summary>
public interface IHistoryArchive
{
    /// <summary>
    /// A vehicle's readings after one moment, up to another, in their order; one that came twice may stand twice. Readings may
    /// be added while it is read: what is added behind the present one need not appear.
    /// </summary>
    IEnumerable<Reading> Between(VehicleName vehicle, Moment after, Moment to);

    /// <summary>
    /// The latest reading up to a moment of each lift, the ride height and the suspension mode of a vehicle (<see cref="StandingWord"/>), in the order
    /// of stream and key; none that is older than <see cref="StandingWord.LooksBack"/>.
    /// </summary>
    IEnumerable<Reading> WordsAt(VehicleName vehicle, Moment at);

    /// <summary>Rows in force of a unit that were touched from a moment on.</summary>
    IEnumerable<RecordedRow> TouchedFrom(VehicleName unit, Moment from);

    /// <summary>The snapshot of a unit that holds everything up to a moment. Only such as were handed out and not dropped.</summary>
    ReadOnlyMemory<byte> Snapshot(VehicleName unit, Moment upTo);
}

/// <summary>A row as it is kept.</summary>
/// <param name="Key">Identity.</param>
/// <param name="Bytes">The row, by <see cref="HistoryRowCodec"/>.</param>
public readonly record struct RecordedRow(RowKey Key, ReadOnlyMemory<byte> Bytes);

/// <summary>Tells readings that hold until something else is said.</summary>
public static class StandingWord
{
    /// <summary>How long such a word is believed, s: who said nothing for three days may stand otherwise by now.</summary>
    public const double LooksBack = 72 * 3600;

    /// <summary>True for a lift, the ride height, the suspension mode.</summary>
    public static bool Is(in Reading reading) => reading.Kind == ReadingKind.Lift
        || reading.Kind == ReadingKind.Condition && (ConditionKey)reading.Key is (ConditionKey.RideHeight or ConditionKey.SuspensionMode);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What is to be written: rows, snapshots, and what goes. Filled by a batch or by one correction, applied whole.</summary>
public sealed class HistoryChange
{
    /// <summary>Rows that come or change, in order: a later one replaces an earlier one of the same key.</summary>
    public List<HistoryRow> Rows { get; } = [];

    /// <summary>Rows that are in force no more.</summary>
    public List<RowKey> Voided { get; } = [];

    /// <summary>Snapshots to keep.</summary>
    public List<LaneSnapshot> Snapshots { get; } = [];

    /// <summary>Snapshots that nobody will ask for any more; they go before those to keep come.</summary>
    public List<(VehicleName Unit, Moment UpTo)> Dropped { get; } = [];

    /// <summary>What lanes said, for telling, each with the vehicles it was said of. A correction says nothing.</summary>
    public List<(ImmutableArray<LaneMember> Members, LaneOutput Output)> Outputs { get; } = [];

    /// <summary>Units of which rows about parted trailers come, change or go.</summary>
    public IEnumerable<VehicleName> Parting => Rows.Where(r => r is HistoryRow.Parted).Select(r => r.Key.Unit).Concat(Voided.Where(k => k.Kind == RowKind.Parted).Select(k => k.Unit));

    /// <summary>A snapshot goes, also one that this change would have kept.</summary>
    internal void Drop(VehicleName unit, long upTo)
    {
        Snapshots.RemoveAll(s => s.Unit == unit && s.UpTo.UnixMilliseconds == upTo);
        Dropped.Add((unit, new Moment(upTo)));
    }

    /// <summary>Forgets everything, to be filled again.</summary>
    public void Clear()
    {
        Rows.Clear();
        Voided.Clear();
        Snapshots.Clear();
        Dropped.Clear();
        Outputs.Clear();
    }
}

/// <summary>A unit's state after everything up to a moment.</summary>
/// <param name="Unit">The powered vehicle.</param>
/// <param name="UpTo">The moment, it included.</param>
/// <param name="Bytes">The state; its version stands within.</param>
public sealed record LaneSnapshot(VehicleName Unit, Moment UpTo, ReadOnlyMemory<byte> Bytes);

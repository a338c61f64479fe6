using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Identity of a row of history: it follows from what happened, so that a second run finds the row of the first.</summary>
/// <param name="Unit">The powered vehicle whose lane it is about.</param>
/// <param name="Kind">What kind of row.</param>
/// <param name="At">The moment: of a load or a load begun when it was seen, of an episode since when it holds, of an account when its period began, of trailers that were parted when they were.</param>
/// <param name="Finding">What was found, for an episode; otherwise default.</param>
public readonly record struct RowKey(VehicleName Unit, RowKind Kind, Moment At, FindingKey Finding) : IComparable<RowKey>
{
    /// <summary>By vehicle, kind, moment, finding.</summary>
    public int CompareTo(RowKey other)
    {
        var order = Unit.CompareTo(other.Unit);
        if (order == 0) order = (int)Kind - (int)other.Kind;
        if (order == 0) order = At.CompareTo(other.At);
        if (order == 0) order = (int)Finding.Kind - (int)other.Finding.Kind;
        if (order == 0) order = Finding.Margin.CompareTo(other.Finding.Margin);
        return order == 0 ? Finding.Element.CompareTo(other.Finding.Element) : order;
    }

    internal void Write(ByteWriter to)
    {
        to.Byte((byte)Kind);
        to.Text(Unit.Fleet);
        to.Text(Unit.Id);
        to.Long(At.UnixMilliseconds);
        to.Int((int)Finding.Kind);
        to.Int((int)Finding.Margin.Kind);
        to.Int(Finding.Margin.Body);
        to.Int(Finding.Margin.Element);
        to.Int(Finding.Element);
    }

    internal static RowKey Read(ref ByteReader from)
    {
        var kind = (RowKind)from.Byte();
        var unit = new VehicleName(from.Text(), from.Text());
        var at = new Moment(from.Long());
        var finding = (FindingKind)from.Int();
        var margin = new MarginKey((MarginKind)from.Int(), from.Int(), from.Int());
        return new RowKey(unit, kind, at, new FindingKey(finding, margin, from.Int()));
    }
}

/// <summary>What a row of history tells.</summary>
public enum RowKind : byte
{
    /// <summary>Loads at one moment.</summary>
    Load,

    /// <summary>An episode of a finding.</summary>
    Episode,

    /// <summary>A load that began.</summary>
    LoadBegun,

    /// <summary>The running account of a period within a day.</summary>
    Account,

    /// <summary>What was known aboard of trailers that left a unit.</summary>
    Parted,
}

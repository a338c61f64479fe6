using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>
/// Which rows of history in force of one kind, over all vehicles, a fleet or a vehicle: those whose time from their own to the last touch
/// meets a span. By time, then fleet, vehicle and key; at most so many. Kind 0 is listed for one vehicle only.
/// </summary>
public sealed record AcrossQuery(RowKind Kind, SampleSpan Times)
{
    /// <summary>Of this fleet only.</summary>
    public string? Fleet { get; init; }

    /// <summary>Of this vehicle only.</summary>
    public VehicleKey? Vehicle { get; init; }

    /// <summary>Whether the newest come first.</summary>
    public bool NewestFirst { get; init; } = true;

    /// <summary>The place of the last row of the page before.</summary>
    public AcrossPlace? After { get; init; }

    /// <summary>The most rows in a page.</summary>
    public int Limit { get; init; } = 100;
}

/// <summary>Where a page of rows across vehicles ended.</summary>
public sealed record AcrossPlace(Moment Time, VehicleKey Vehicle, string Key)
{
    /// <summary>The place of a row.</summary>
    public static AcrossPlace Of(KeptHistory row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return new AcrossPlace(row.Row.Key.Time, row.Row.Key.Vehicle, row.Row.Key.Key);
    }
}

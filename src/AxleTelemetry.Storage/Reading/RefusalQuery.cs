using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Which refusals that are kept: of all vehicles or one, the newest first, at most so many.</summary>
public sealed record RefusalQuery
{
    /// <summary>Of this vehicle only.</summary>
    public VehicleKey? Vehicle { get; init; }

    /// <summary>Those before a position: that of the last refusal of the page before.</summary>
    public Position Before { get; init; } = Position.End;

    /// <summary>The most refusals in a page.</summary>
    public int Limit { get; init; } = 100;
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Which rows of history in force: of a vehicle and kind, with a time in a span, by time and key, at most so many.</summary>
public sealed record HistoryQuery(VehicleKey Vehicle, RowKind Kind, SampleSpan Times)
{
    /// <summary>Time and key of the last row of the page before.</summary>
    public (Moment Time, string Key)? After { get; init; }

    /// <summary>The most rows in a page.</summary>
    public int Limit { get; init; } = 1_000;
}

/// <summary>A row of history in force, with the position of its last change.</summary>
public sealed record KeptHistory(Position Position, HistoryRow.Put Row);

using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Which inputs of a vehicle: those with a sample time in a span, from a place on, at most so many.</summary>
public sealed record InputQuery(VehicleKey Vehicle, SampleSpan Samples)
{
    /// <summary>Of this kind only.</summary>
    public RowKind? Kind { get; init; }

    /// <summary>The place of the last input of the page before.</summary>
    public InputPlace After { get; init; } = InputPlace.Start;

    /// <summary>The most inputs in a page.</summary>
    public int Limit { get; init; } = 1_000;
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>From the earliest to the latest moment, both included.</summary>
public readonly record struct SampleSpan(Moment Least, Moment Greatest)
{
    /// <summary>A span of one moment.</summary>
    public static SampleSpan At(Moment moment) => new(moment, moment);

    /// <summary>Whether both have a moment in common.</summary>
    public bool Meets(SampleSpan other) => Least <= other.Greatest && other.Least <= Greatest;
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Web.Sight;

/// <summary>Which episodes are asked for. What is not set does not narrow.</summary>
public sealed record EpisodeQuery
{
    /// <summary>Most that are given.</summary>
    public const int Most = 5_000;

    public VehicleName? Vehicle { get; init; }

    /// <summary>Beginning of the span that they meet.</summary>
    public Moment? From { get; init; }

    /// <summary>End of the span that they meet.</summary>
    public Moment? To { get; init; }

    /// <summary>Only overloads.</summary>
    public bool OverloadsOnly { get; init; }
}

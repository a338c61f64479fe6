using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Running;

/// <summary>What an account says of a lift, on any distance that is typical.</summary>
public sealed record LiftCase
{
    /// <summary>Work as driven.</summary>
    public required RoadWork Driven { get; init; }

    /// <summary>Work saved against driving with the axle always lowered, over the same road.</summary>
    public required RoadWork Saved { get; init; }

    /// <summary>Tyre work saved on each axle (negative where it grew), J; empty where not known. See <see cref="Valuation.Of"/>.</summary>
    public ImmutableArray<double> SavedTyreJoules { get; init; } = [];

    /// <summary>Mean gross mass over that road.</summary>
    public required Mass Gross { get; init; }

    /// <summary>Distance of a year, km.</summary>
    public required double KilometresPerYear { get; init; }
}

using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Grip;

/// <summary>A road and how well tyres hold on it.</summary>
/// <param name="Name">For people.</param>
/// <param name="Friction">Greatest pull over load of a driven tyre.</param>
public sealed record RoadSurface(string Name, double Friction)
{
    /// <summary>Common practice, no source: what a truck tyre of the season finds; worn tyres and the road itself vary by a third.</summary>
    public static ImmutableArray<RoadSurface> Usual { get; } = [new("dry", 0.70), new("wet", 0.50), new("packed snow", 0.20), new("ice", 0.10)];
}

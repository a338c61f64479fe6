namespace AxleTelemetry.Domain.RoadWear;

/// <summary>A flexible pavement as the AASHO road test describes it. <c>new()</c>: a main road, SN 5 and pt 2.5.</summary>
public sealed record Pavement
{
    /// <summary>Structural number SN: 1 a thin road, 6 a motorway. Default 5.</summary>
    public double StructuralNumber { get; init; } = 5;

    /// <summary>Serviceability pt at which the road is worn out. Default 2.5; below 4.2.</summary>
    public double TerminalServiceability { get; init; } = 2.5;
}

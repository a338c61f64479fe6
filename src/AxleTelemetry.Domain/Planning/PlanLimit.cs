using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Domain.Planning;

/// <summary>What bounds a payload.</summary>
public abstract record PlanLimit
{
    private PlanLimit()
    {
    }

    /// <summary>A limit of the margin table.</summary>
    /// <param name="Margin">That limit.</param>
    public sealed record Of(Margin Margin) : PlanLimit;

    /// <summary>A suspension, or the coupling under a semi-trailer, would have to pull downwards: the vehicle cannot stand so.</summary>
    /// <param name="Row">Axle of the combination, or row of the coupling.</param>
    public sealed record Pulls(int Row) : PlanLimit;

    /// <summary>An axle reaches, or leaves, the ceiling of its pressure-limiting valve: beyond it other lines hold. Bounds nothing by itself.</summary>
    /// <param name="Axle">Axle of the combination.</param>
    public sealed record Valve(int Axle) : PlanLimit;
}

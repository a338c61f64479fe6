using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>What is believed of one body's payload and of its moment, together: noise and considered errors.</summary>
/// <param name="Kilograms">Mass, kg.</param>
/// <param name="Moment">Its moment about the body's origin, kg m.</param>
/// <param name="MassVariance">Variance of the mass, kg2.</param>
/// <param name="Covariance">Of mass and moment, kg2 m.</param>
/// <param name="MomentVariance">Variance of the moment, kg2 m2.</param>
public sealed record PayloadSpread(double Kilograms, double Moment, double MassVariance, double Covariance, double MomentVariance)
{
    /// <summary>Radius in standard deviations of an ellipse that holds 95 % of a normal pair: square root of the chi-square quantile 5.991.</summary>
    public static readonly double Radius95 = Math.Sqrt(-2 * Math.Log(0.05));

    // Below this mass a place is a quotient by next to nothing.
    private const double LeastPayload = 500;

    /// <summary>Of an estimate.</summary>
    public static PayloadSpread Of(PayloadEstimate estimate, BodyPart body)
    {
        var (p, n, m) = (body.StateIndex, estimate.States, estimate.Errors);
        ReadOnlySpan<double> mass = estimate.Sensitivity.Slice(p * m, m), moment = estimate.Sensitivity.Slice((p + 1) * m, m);
        var (pp, pm, mm) = (estimate.Covariance[p * n + p], estimate.Covariance[p * n + p + 1], estimate.Covariance[(p + 1) * n + p + 1]);
        for (var e = 0; e < m; e++) (pp, pm, mm) = (pp + mass[e] * mass[e], pm + mass[e] * moment[e], mm + moment[e] * moment[e]);
        return new(estimate.State[p], estimate.State[p + 1], pp, pm, mm);
    }

    /// <summary>Its centre along the body, m; <c>null</c> where there is next to nothing aboard.</summary>
    public double? Centre => Kilograms > LeastPayload ? Moment / Kilograms : null;

    /// <summary>
    /// The edge of what holds 95 %, as places and payloads: the ellipse of mass and moment carried over point by point, so that the part within is exact
    /// though a place is a quotient. Empty where it would reach down to next to nothing aboard, and where nothing is uncertain.
    /// </summary>
    /// <param name="points">How many points, evenly round.</param>
    public ImmutableArray<(double Metres, double Kilograms)> Edge(int points)
    {
        var mass = Math.Sqrt(MassVariance);
        if (MassVariance <= 0 || Kilograms - Radius95 * mass < LeastPayload) return [];
        var along = Covariance / mass;
        var across = Math.Sqrt(Math.Max(0, MomentVariance - along * along));
        var edge = ImmutableArray.CreateBuilder<(double, double)>(points);
        for (var i = 0; i < points; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / points);
            var kilograms = Kilograms + Radius95 * mass * cos;
            edge.Add(((Moment + Radius95 * (along * cos + across * sin)) / kilograms, kilograms));
        }

        return edge.ToImmutable();
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>What stood on the road at a moment, static and level, and how the lifts really were.</summary>
/// <param name="At">The moment.</param>
/// <param name="Rolling">True while the wheels turned.</param>
/// <param name="Configuration">What every axle really did.</param>
/// <param name="Rows">Axles, then couplings, kg.</param>
internal sealed record TrueMoment(Moment At, bool Rolling, Configuration Configuration, ImmutableArray<double> Rows)
{
    public static TrueMoment Of(TruthRecord.Now now) => new(now.At, now.Rolling, ConfigurationOf(now.Axles), [.. now.Axles.Select(a => a.Kilograms), .. now.Couplings]);

    /// <summary>Kilograms over a limit of that configuration.</summary>
    public static double Excess(Margin margin, ReadOnlySpan<double> rows)
    {
        var sum = -margin.Constant;
        for (var row = 0; row < margin.Weights.Length; row++) sum += margin.Weights[row] * rows[row];
        return sum;
    }

    /// <summary>A limit in kg: itself for a mass, for a share that part of the mass it counts.</summary>
    public static double Scale(Margin margin, ReadOnlySpan<double> rows)
    {
        if (margin.Key.Kind is not (MarginKind.DrivingShare or MarginKind.SteeringShare)) return Math.Abs(margin.Limit);
        var mass = 0.0;
        for (var row = 0; row < margin.Weights.Length; row++)
            if (margin.Weights[row] != 0)
                mass += rows[row];
        return margin.Limit * mass;
    }

    private static Configuration ConfigurationOf(ImmutableArray<AxleTruth> axles)
    {
        var configuration = default(Configuration);
        for (var a = 0; a < axles.Length; a++) configuration = configuration.With(a, axles[a].State);
        return configuration;
    }
}

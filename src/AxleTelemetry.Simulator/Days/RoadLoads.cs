using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>
/// What a combination carries in one state of its loads and lifts, whatever the road does: the dense solve is linear in
/// slope and in air drag, so four solves serve for as long as the state lasts.
/// </summary>
internal sealed class RoadLoads
{
    private const double SlopeStep = 0.01, SpeedStep = 10;

    private readonly TrueLoads _rolling;
    private readonly double[] _perSlope;
    private readonly double[] _perSquare;

    private RoadLoads(TrueLoads level, TrueLoads rolling, TrueLoads steep, TrueLoads fast)
    {
        Level = level;
        _rolling = rolling;
        _perSlope = [.. rolling.Sprung.Select((s, i) => (steep.Sprung[i] - s) / SlopeStep)];
        _perSquare = [.. rolling.Sprung.Select((s, i) => (fast.Sprung[i] - s) / (SpeedStep * SpeedStep))];
        Gross = level.Axles.Sum();
    }

    /// <summary>Standing on the level.</summary>
    public TrueLoads Level { get; }

    /// <summary>Gross, kg.</summary>
    public double Gross { get; }

    /// <summary>Solves; <c>null</c> where the combination does not stand so.</summary>
    public static RoadLoads? Of(TrueCombination truth, Configuration configuration, ReadOnlySpan<double> payload)
    {
        if (DenseStatics.Settle(truth, configuration, payload, default) is not StaticsResult.Stands { Loads: var level }) return null;
        return new RoadLoads(
            level, Solved(truth, level, payload, new RoadMotion(0, 0, true)), Solved(truth, level, payload, new RoadMotion(SlopeStep, 0, true)),
            Solved(truth, level, payload, new RoadMotion(0, SpeedStep, true)));
    }

    /// <summary>What the suspension of an axle carries in a motion, kg.</summary>
    public double Sprung(int axle, in RoadMotion motion) => motion.Rolling
        ? _rolling.Sprung[axle] + motion.Slope * _perSlope[axle] + motion.AirSpeed * motion.AirSpeed * _perSquare[axle]
        : Level.Sprung[axle];

    // Valves hold what they held on the level: a hill is too short for them.
    private static TrueLoads Solved(TrueCombination truth, TrueLoads level, ReadOnlySpan<double> payload, RoadMotion motion) =>
        DenseStatics.Solve(truth, level.Configuration, payload, motion) is StaticsResult.Stands stands
            ? stands.Loads
            : throw new InvalidOperationException("What stands on the level is solvable on a hill.");
}

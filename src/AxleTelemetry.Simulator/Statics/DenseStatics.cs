using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>
/// Equilibrium of a whole combination as one system of linear equations: every axle load, every coupling force and the
/// common factor of every group at once. Slow and plain on purpose: it shares nothing with the product's own statics, and
/// so is what those are checked against.
/// </summary>
public static class DenseStatics
{
    /// <summary>
    /// Solves with every axle doing exactly what the configuration says, whether that could last or not: an axle pulls
    /// down if the equations want it to.
    /// </summary>
    /// <param name="truth">The vehicles as they are.</param>
    /// <param name="configuration">What every axle is doing.</param>
    /// <param name="state">Payload mass in kg and its moment in kg m, for each body that carries.</param>
    /// <param name="motion">What the combination feels.</param>
    public static StaticsResult Solve(TrueCombination truth, Configuration configuration, ReadOnlySpan<double> state, RoadMotion motion)
    {
        var equations = new BalanceEquations(truth, configuration, state, motion);
        return equations.Solve() is { } loads
            ? new StaticsResult.Stands(loads)
            : new StaticsResult.Falls("A support has no axle that could carry.");
    }

    /// <summary>
    /// Finds what the combination really does: the set of axles held at their valve's ceiling with which all others stay
    /// below theirs, and nothing has to pull. Tries every set, since there are few.
    /// </summary>
    /// <param name="truth">The vehicles as they are.</param>
    /// <param name="configuration">What every axle is doing; which are held is found, not taken.</param>
    /// <param name="state">Payload mass in kg and its moment in kg m, for each body that carries.</param>
    /// <param name="motion">What the combination feels.</param>
    public static StaticsResult Settle(TrueCombination truth, Configuration configuration, ReadOnlySpan<double> state, RoadMotion motion)
    {
        var limited = truth.Described.Axles
            .Where(a => a.Axle.CeilingForce is not null && a.Axle.RegulatedForce is null && configuration[a.Index] == AxleState.Loaded)
            .Aggregate(0u, (bits, a) => bits | 1u << a.Index);
        StaticsResult result = new StaticsResult.Falls("A support has no axle that could carry.");
        for (uint held = 0; ; held = (held - limited) & limited)
        {
            if (Solve(truth, configuration with { AtCeiling = held }, state, motion) is StaticsResult.Stands stands && ValvesAgree(truth, stands.Loads, limited))
            {
                if (Pulling(truth, stands.Loads) is not { } reason) return stands;
                result = new StaticsResult.Falls(reason);
            }

            if (held == limited) return result;
        }
    }

    /// <summary>
    /// Condition number of the equations (1-norm, kg and m): how much they may magnify rounding. Infinite without a support.
    /// </summary>
    public static double Condition(TrueCombination truth, Configuration configuration, RoadMotion motion) =>
        new BalanceEquations(truth, configuration, new double[truth.Described.StateSize], motion).Condition();

    /// <summary>True where every valve that holds would otherwise let more through, and every open one is below its ceiling.</summary>
    private static bool ValvesAgree(TrueCombination truth, TrueLoads loads, uint limited)
    {
        foreach (var part in truth.Described.Axles)
        {
            if ((limited >> part.Index & 1) == 0) continue;
            var force = truth.Vehicles[part.Body].Forces[part.Index - truth.Described.Bodies[part.Body].FirstAxle];
            if (loads.Configuration.IsAtCeiling(part.Index) != loads.ByShare[part.Index] > force) return false;
        }

        return true;
    }

    private static string? Pulling(TrueCombination truth, TrueLoads loads)
    {
        foreach (var part in truth.Described.Axles)
            if (loads.Configuration[part.Index] != AxleState.Raised && loads.Sprung[part.Index] < 0)
                return $"Axle '{part.Axle.Key}' would have to pull.";
        for (var body = 1; body < truth.Vehicles.Length; body++)
            if (truth.Vehicles[body].Description.Kind == VehicleKind.SemiTrailer && loads.Couplings[body - 1] < 0)
                return "A kingpin would have to pull.";
        return null;
    }
}

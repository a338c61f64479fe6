using System.Collections.Concurrent;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// The statics of one combination: its load map in every configuration. Maps are derived when first asked for and kept;
/// a map is a pure function of combination and configuration, so keeping it changes no result.
/// </summary>
public sealed class LoadModel
{
    private readonly ConcurrentDictionary<Configuration, LoadMap?> _maps = new();
    private readonly Func<Configuration, LoadMap?> _derive;

    /// <summary>Builds the model of a combination.</summary>
    public LoadModel(Combination combination)
    {
        Combination = combination;
        Budget = new ErrorBudget(combination);
        _derive = configuration => LoadMap.Derive(Combination, Budget, configuration);
    }

    /// <summary>The combination.</summary>
    public Combination Combination { get; }

    /// <summary>What is not exactly known of it.</summary>
    public ErrorBudget Budget { get; }

    /// <summary>The load map in a configuration; <c>null</c> where it leaves a support without a loaded axle.</summary>
    public LoadMap? Map(in Configuration configuration) => _maps.GetOrAdd(configuration, _derive);

    /// <summary>
    /// The map that holds at a payload state: where a valve's ceiling would be passed, the axle is held at it. <c>null</c>
    /// where the configuration is not possible in its mode: a support without a loaded axle, or one that would have to pull.
    /// </summary>
    public LoadMap? MapAt(Configuration configuration, ReadOnlySpan<double> state)
    {
        // Each pass can only hold more axles, so this ends.
        while (true)
        {
            if (Map(configuration) is not { } map) return null;
            var held = Ceilings(map, state);
            if (held == configuration.AtCeiling) return Presses(map, state) ? map : null;
            configuration = configuration with { AtCeiling = held };
        }
    }

    /// <summary>True where no axle that takes a share, and no coupling under a semi-trailer, would have to pull downwards.</summary>
    private bool Presses(LoadMap map, ReadOnlySpan<double> state)
    {
        foreach (var body in Combination.Bodies)
        {
            for (var i = 0; i < body.Vehicle.Axles.Length; i++)
                if (Equilibrium.Shares(body, i, map.Configuration) && map.Load(body.FirstAxle + i, state) < 0)
                    return false;
            if (body.Vehicle.Kind == VehicleKind.SemiTrailer && map.Load(Combination.CouplingRow(body.Index), state) < 0)
                return false;
        }

        return true;
    }

    private uint Ceilings(LoadMap map, ReadOnlySpan<double> state)
    {
        var held = map.Configuration.AtCeiling;
        foreach (var part in Combination.Axles)
        {
            if (part.Axle.CeilingForce is not { } ceiling || map.Configuration[part.Index] != AxleState.Loaded) continue;
            if (map.Load(part.Index, state) - part.Axle.Unsprung.Kilograms > ceiling.Kilograms) held |= 1u << part.Index;
        }

        return held;
    }

    /// <summary>
    /// Every way the lifts can stand, suspension normal: all combinations of loaded and raised that leave each support a
    /// loaded axle. The configuration with every axle loaded comes first.
    /// </summary>
    public IEnumerable<LoadMap> LiftConfigurations()
    {
        var liftable = Combination.Liftable;
        for (uint raised = 0; ; raised = (raised - liftable) & liftable)
        {
            if (Map(new Configuration(raised)) is { } map) yield return map;
            if (raised == liftable) yield break;
        }
    }
}

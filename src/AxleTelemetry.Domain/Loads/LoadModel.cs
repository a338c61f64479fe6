using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// The statics of one combination: its load map in every configuration. Maps are derived when first asked for and kept;
/// a map is a pure function of combination and configuration, so keeping it changes no result.
/// </summary>
public sealed class LoadModel
{
    // Eight lifts stand in 256 ways, and suspension modes are what vehicles say: beyond these all is derived anew.
    private const int MostKept = 4096;

    private readonly KeptRow<Derived> _maps = new(MostKept);

    /// <summary>Builds the model of a combination.</summary>
    public LoadModel(Combination combination)
    {
        Combination = combination;
        Budget = new ErrorBudget(combination);
        Lifts = [.. LiftConfigurations().Select(map => map.Configuration)];
    }

    /// <summary>The combination.</summary>
    public Combination Combination { get; }

    /// <summary>What is not exactly known of it.</summary>
    public ErrorBudget Budget { get; }

    /// <summary>Every way the lifts can stand in the normal suspension mode.</summary>
    public ImmutableArray<Configuration> Lifts { get; }

    /// <summary>The load map in a configuration; <c>null</c> where it leaves a support without a loaded axle.</summary>
    public LoadMap? Map(in Configuration configuration)
    {
        foreach (var kept in _maps.All)
            if (kept.Of == configuration)
                return kept.Map;
        return _maps.Keep(new Derived(configuration, LoadMap.Derive(Combination, Budget, configuration)), static (a, b) => a.Of == b.Of).Map;
    }

    /// <summary>
    /// The map that holds at a payload state: where a valve's ceiling would be passed, the axle is held at it. Which are
    /// held is found here, whatever the configuration says of it. <c>null</c> where the configuration is not possible in
    /// its mode: a support without a loaded axle, or one that would have to pull.
    /// </summary>
    public LoadMap? MapAt(Configuration configuration, ReadOnlySpan<double> state)
    {
        configuration = configuration with { AtCeiling = 0 };
        if (Map(configuration) is not { } map) return null;
        // An axle held on a trailer can take load off the vehicle ahead, never off its own group: from the last body
        // forward, each pass over a body only holds more.
        for (var body = Combination.Bodies.Length - 1; body >= 0; body--)
        {
            while (Held(map, Combination.Bodies[body], state) is var held && held != configuration.AtCeiling)
            {
                configuration = configuration with { AtCeiling = held };
                if (Map(configuration) is not { } next) return null;
                map = next;
            }
        }

        return Presses(map, state) ? map : null;
    }

    /// <summary>True where no suspension that takes a share, and no coupling under a semi-trailer, would have to pull downwards.</summary>
    private bool Presses(LoadMap map, ReadOnlySpan<double> state)
    {
        foreach (var body in Combination.Bodies)
        {
            for (var i = 0; i < body.Vehicle.Axles.Length; i++)
                // Bellows and springs only push: what counts is the sprung load, not the wheels' own weight on the road.
                if (Equilibrium.Shares(body, i, map.Configuration)
                    && map.Load(body.FirstAxle + i, state) < body.Vehicle.Axles[i].Unsprung.Kilograms)
                    return false;
            if (body.Vehicle.Kind == VehicleKind.SemiTrailer && map.Load(Combination.CouplingRow(body.Index), state) < 0)
                return false;
        }

        return true;
    }

    /// <summary>Those held already, and the axles of one body that this map would put above their ceiling.</summary>
    private static uint Held(LoadMap map, BodyPart body, ReadOnlySpan<double> state)
    {
        var held = map.Configuration.AtCeiling;
        for (var i = 0; i < body.Vehicle.Axles.Length; i++)
        {
            var axle = body.Vehicle.Axles[i];
            if (axle.CeilingForce is not { } ceiling || !Equilibrium.Shares(body, i, map.Configuration)) continue;
            if (map.Load(body.FirstAxle + i, state) - axle.Unsprung.Kilograms > ceiling.Kilograms) held |= 1u << (body.FirstAxle + i);
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

    /// <summary>The same with axles that have a lift relieved too: wheels on the road, bellows empty. No map is derived for those.</summary>
    public IEnumerable<Configuration> StandingConfigurations()
    {
        foreach (var lifts in LiftConfigurations())
        {
            var down = Combination.Liftable & ~lifts.Configuration.Raised;
            for (uint relieved = 0; ; relieved = (relieved - down) & down)
            {
                var configuration = lifts.Configuration with { Unloaded = relieved };
                if (Combination.Bodies.All(b => Stands(b, b.Vehicle.Front, configuration) && Stands(b, b.Vehicle.Rear, configuration))) yield return configuration;
                if (relieved == down) break;
            }
        }
    }

    private static bool Stands(BodyPart body, AxleGroup? group, Configuration configuration) =>
        group is null || group.Axles.Any(axle => Equilibrium.Shares(body, axle, configuration));

    private sealed record Derived(Configuration Of, LoadMap? Map);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Grip;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>A load in one configuration: every limit judged, what rolling costs, what it does for moving off.</summary>
/// <param name="Configuration">How the axles stand; valves as the load puts them.</param>
/// <param name="Verdicts">Every limit, in the order of their keys.</param>
/// <param name="Cost">What rolling costs.</param>
/// <param name="MovingOff">Loads that decide on moving off.</param>
/// <param name="SetDown">Raised axles that their automatic control would set down under this load.</param>
public sealed record ConfigurationPlan(
    Configuration Configuration, ImmutableArray<Verdict> Verdicts, RollingCost Cost, MovingOff MovingOff, ImmutableArray<int> SetDown)
{
    /// <summary>True where every limit holds that is more than a rule of the house.</summary>
    public bool IsPermitted => Verdicts.All(v => !v.Binds || v.Excess.Mean <= 0);

    /// <summary>True where each of them surely does, as far as the vehicle is known.</summary>
    public bool IsSure => Verdicts.All(v => !v.Binds || v.Deviations <= -Levels.SurelyFrom);

    /// <summary>Of those limits the one that is passed most, or that is closest, in kg.</summary>
    public Verdict Tightest => Verdicts.Where(v => v.Binds).MaxBy(v => v.Excess.Mean);

    /// <summary>Rules of the house that are not kept.</summary>
    public IEnumerable<Verdict> HouseRulesMissed => Verdicts.Where(v => !v.Binds && v.Excess.Mean > 0);

    /// <summary>Plans a load; <c>null</c> where the vehicle cannot stand so with it.</summary>
    public static ConfigurationPlan? Of(LaneSetup setup, PayloadEstimate payload, KnownErrors known, Configuration configuration)
    {
        if (setup.Table.At(configuration, payload.State) is not { } judged) return null;
        var combination = setup.Combination;
        return new(
            judged.Map.Configuration,
            [.. Enumerable.Range(0, judged.Margins.Length).Select(i => judged.Judge(i, setup.Estimator, payload, known))],
            RollingCost.Of(combination, judged.Map, payload.State),
            MovingOff.Of(combination, judged.Map, payload.State),
            [.. combination.Axles.Where(a => a.Axle.Lift is not null && configuration[a.Index] == AxleState.Raised
                && LiftRule.WouldLower(setup.Model, payload, judged.Map.Configuration, a.Index)).Select(a => a.Index)]);
    }
}

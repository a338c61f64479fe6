using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Planning;

/// <summary>One load in every position of the lifts, and which to drive in.</summary>
/// <param name="Configurations">Those in which the vehicle can stand, every axle loaded first.</param>
/// <param name="Right">Of those permitted that the automatic control would leave so, the one that rolls cheapest; <c>null</c> where there is none.</param>
/// <param name="Remedies">What to do to the load where none is permitted, best first.</param>
public sealed record LoadPlan(ImmutableArray<ConfigurationPlan> Configurations, ConfigurationPlan? Right, ImmutableArray<Remedy> Remedies)
{
    /// <summary>Plans a load in the suspension modes that are stated.</summary>
    /// <param name="setup">The vehicles with their limits.</param>
    /// <param name="payload">The load.</param>
    /// <param name="known">What is known of the errors.</param>
    /// <param name="modes">A configuration whose suspension modes hold.</param>
    public static LoadPlan Of(LaneSetup setup, PayloadEstimate payload, KnownErrors known, Configuration modes)
    {
        ImmutableArray<ConfigurationPlan> all = [.. setup.Table.Lifts.Select(l => ConfigurationPlan.Of(setup, payload, known, l with { Modes = modes.Modes })).OfType<ConfigurationPlan>()];
        var right = all.Where(p => p.IsPermitted && p.SetDown.IsEmpty).MinBy(p => p.Cost.Newtons);
        return new(all, right, all.Any(p => p.IsPermitted) ? [] : setup.Remedies.Solve(payload, known, new Configuration(0, Modes: modes.Modes)));
    }
}

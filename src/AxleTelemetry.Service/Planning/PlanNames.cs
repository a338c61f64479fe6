using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Planning;

/// <summary>What people call the parts of a plan.</summary>
internal sealed class PlanNames(Combination combination)
{
    private readonly Sentences _sentences = new(combination);

    public Names Names => _sentences.Names;

    /// <summary><c>axle 3 (tag) raised</c>; <c>all axles down</c>.</summary>
    public string Lifts(Configuration configuration) => configuration is { Raised: 0, Unloaded: 0 } ? "all axles down" : _sentences.Lifts(configuration);

    /// <summary>What bounds a payload: <c>axle 2 (drive)</c>, <c>driving share</c>, <c>axle 2 (drive) rating</c>.</summary>
    public string Of(PlanLimit limit) => limit switch
    {
        PlanLimit.Of margin => Of(margin.Margin),
        PlanLimit.Pulls pulls => pulls.Row < combination.Axles.Length ? $"{Names.Axle(pulls.Row)} would be lifted" : $"{Names.Coupling(pulls.Row - combination.Axles.Length + 1)} would be lifted",
        PlanLimit.Valve valve => $"{Names.Axle(valve.Axle)} at its valve's ceiling",
        _ => throw new InvalidOperationException("A limit that nobody handles."),
    };

    private string Of(Margin margin) => margin.Key.Kind switch
    {
        MarginKind.AxleRating => $"{Names.Limited(margin)} rating",
        MarginKind.CouplingLeast => $"{Names.Limited(margin)} (least)",
        MarginKind.CouplingMost => $"{Names.Limited(margin)} (most)",
        MarginKind.DrivingShare or MarginKind.SteeringShare => margin.Standing == MarginStanding.HouseRule ? $"{Names.Limited(margin)} (house rule)" : Names.Limited(margin),
        MarginKind.Axle or MarginKind.Group or MarginKind.Bridge or MarginKind.Gross or MarginKind.CombinationGross or MarginKind.TyreRating => Names.Limited(margin),
        _ => throw new ArgumentOutOfRangeException(nameof(margin), margin.Key.Kind, "Unknown kind."),
    };
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Planning;

/// <summary>The plan: where payload may stand in every position of the lifts, and what each stage of the trip does.</summary>
/// <param name="Order">What was asked.</param>
/// <param name="Lifts">Every position of the lifts, all axles down first.</param>
/// <param name="Stages">The load as it sets off, then after each drop.</param>
/// <param name="Edge">Of the load as it sets off: what holds 95 %; empty where nothing is uncertain or too much.</param>
/// <param name="Relieved">The load as it sets off with an axle relieved that can be: for moving off.</param>
internal sealed record PlanSheet(
    PlanOrder Order, ImmutableArray<PlannedLifts> Lifts, ImmutableArray<PlanStage> Stages, ImmutableArray<(double Metres, double Kilograms)> Edge, ImmutableArray<ConfigurationPlan> Relieved)
{
    public PlanStage Start => Stages[0];
}

/// <summary>One position of the lifts, whatever the load.</summary>
internal sealed record PlannedLifts(Configuration Configuration, LoadDiagram Diagram, Turn Turn);

/// <summary>A stage of a trip.</summary>
/// <param name="Number">How many drops lie behind.</param>
/// <param name="Aboard">What is aboard of the body that varies.</param>
/// <param name="Plan">The load in every position of the lifts.</param>
internal sealed record PlanStage(int Number, Aboard Aboard, LoadPlan Plan)
{
    /// <summary>The plan in a position of the lifts; <c>null</c> where the vehicle cannot stand so.</summary>
    public ConfigurationPlan? In(Configuration lifts) => Plan.Configurations.FirstOrDefault(c => c.Configuration.Raised == lifts.Raised);
}

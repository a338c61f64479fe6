using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Turning;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Planning;

/// <summary>From an order to a sheet. Pure.</summary>
internal static class PlanDesk
{
    private const int EdgePoints = 72;

    public static PlanSheet Work(PlanOrder order)
    {
        var (setup, state) = (order.Setup, order.Payload.State.ToArray());
        ImmutableArray<PlannedLifts> lifts = [.. setup.Table.Lifts.Select(c => new PlannedLifts(
            c, LoadDiagram.Of(setup.Table, c, order.Body, state), SweptPath.Of(order.Combination, c, order.Turning, TurningRing.Directive)))];
        var edge = order.Source is PlanSource.Live ? PayloadSpread.Of(order.Payload, order.Body).Edge(EdgePoints) : [];
        return new(order, lifts, [.. Stages(order)], edge, [.. Relieved(order)]);
    }

    private static IEnumerable<PlanStage> Stages(PlanOrder order)
    {
        var p = order.Body.StateIndex;
        var start = new Aboard(order.Payload.State[p], order.Payload.State[p + 1]);
        return start.After(order.Drops).Prepend(start).Select((aboard, i) => new PlanStage(i, aboard, LoadPlan.Of(order.Setup, With(order, aboard), order.Known, default)));
    }

    /// <summary>The same load with another mass on the body that varies: what is taken off is known, so nothing becomes less certain.</summary>
    private static PayloadEstimate With(PlanOrder order, Aboard aboard)
    {
        var payload = order.Setup.Estimator.NewEstimate();
        payload.CopyFrom(order.Payload);
        (payload.State[order.Body.StateIndex], payload.State[order.Body.StateIndex + 1]) = (aboard.Kilograms, aboard.Moment);
        return payload;
    }

    private static IEnumerable<ConfigurationPlan> Relieved(PlanOrder order) => order.Combination.Axles
        .Where(a => a.Axle.Lift is { CanUnload: true })
        .Select(a => ConfigurationPlan.Of(order.Setup, order.Payload, order.Known, default(Configuration).With(a.Index, AxleState.Unloaded)))
        .OfType<ConfigurationPlan>();
}

using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Planning;

/// <summary>What a plan of a followed vehicle starts from. Made on the shard's own thread; holds nothing of it that changes.</summary>
internal abstract record LivePlan
{
    private LivePlan() { }

    /// <summary>It can be planned.</summary>
    public sealed record Ready(PlanBasis Basis) : LivePlan;

    /// <summary>A trailer: planned with the unit that it hangs on, if any.</summary>
    public sealed record Trailer(VehicleName? Behind) : LivePlan;

    /// <summary>Nobody described it.</summary>
    public sealed record Unknown : LivePlan;

    public static LivePlan Of(ShardState shard, VehicleName name, Moment now)
    {
        if (shard.Find(name) is not { } state || shard.Configuration.Find(name.Fleet) is not { } fleet) return new Unknown();
        if (!state.Description.Kind.IsPowered()) return new Trailer(Ahead(shard, state));
        if (state.View is { } view && shard.History.LaneOf(name) is { } lane)
        {
            // Where it is, its country's limits hold, and its permits.
            var stack = lane.State.Place.Stack;
            return new Ready(new(lane.Setup.For(stack), LimitsLine.Of(lane.Setup.Law.TablesOf(stack) ?? LimitStack.Of(fleet.Limits), fleet.Trip, lane.Setup.Law.PermitsOf(stack).InForce), Live(lane, view)) { Assumptions = fleet.Assumptions });
        }

        // Not heard yet: by itself, as described.
        return Combination.Couple([state.Description]) is CouplingResult.Coupled alone ? new Ready(new(fleet.Setup(alone.Combination, now), LimitsLine.Of(fleet.Limits, fleet.Trip), null) { Assumptions = fleet.Assumptions }) : new Unknown();
    }

    /// <summary>The unit whose lane has the trailer now; what it last hung on may have left it since.</summary>
    private static VehicleName? Ahead(ShardState shard, VehicleState trailer) =>
        trailer.Behind is { } unit && shard.Find(unit)?.Members.Contains(trailer.Name) == true ? unit : null;

    private static LivePayload? Live(Lane lane, LaneView view)
    {
        if (view.Payloads.IsEmpty) return null;
        var (payload, known) = (lane.Setup.Estimator.NewEstimate(), lane.Setup.Estimator.NewKnownErrors());
        payload.CopyFrom(view.Standing == LoadStanding.Provisional ? lane.State.Provisional : lane.State.Payload);
        known.CopyFrom(lane.State.Known);
        return new(payload, known, UnitText.Worth(view), view.Configuration);
    }
}

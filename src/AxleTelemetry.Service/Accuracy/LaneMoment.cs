using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>A lane as it stood at the end of a leg: what it would have advised.</summary>
internal sealed class LaneMoment
{
    private readonly LaneSetup _setup;
    private readonly LaneState _state;

    public LaneMoment(Lane lane)
    {
        _setup = lane.Setup;
        _state = new LaneState(lane.Setup.Estimator, lane.Setup.Catalog.Keys.Length);
        _state.CopyFrom(lane.State);
        Classes = new Classing(lane.View());
    }

    /// <summary>What its figures rest on.</summary>
    public Classing Classes { get; }

    /// <summary>True where what it knows is of a leg: what settled may have been taken back since.</summary>
    public bool IsOf(TruthRecord.Leg leg) => _state.Load.SettledAt >= leg.From.UnixMilliseconds;

    /// <summary>What ends an overload in a configuration, best first.</summary>
    public ImmutableArray<Remedy> Remedies(Configuration configuration) =>
        _setup.TableAt(_state.Place.Stack).At(configuration, _state.Payload.State) is { } judged ? _setup.RemediesAt(_state.Place.Stack).Solve(_state.Payload, _state.Known, judged.Map.Configuration) : [];
}

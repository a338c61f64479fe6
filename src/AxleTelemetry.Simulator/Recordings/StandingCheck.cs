using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>Whether loads and lifts as they are can be driven: no axle lifts off, whatever the road does.</summary>
internal sealed class StandingCheck(TrueCombination truth, ImmutableArray<FleetUnit> units)
{
    private const double LeastAxleLoad = 300;

    // The last metres before a standstill are braked hard.
    private static readonly RoadMotion[] Motions = [default, new(-0.12, 25, true), new(0.12, 25, true), new(-0.4, 0.1, true), new(0.12, 0.1, true)];

    public TrueCombination Truth => truth;

    public bool Holds()
    {
        var configuration = Configuration();
        var payload = Payload();
        return Motions.All(motion => DenseStatics.Settle(truth, configuration, payload, motion) is StaticsResult.Stands stands
            && truth.Described.Axles.All(a => configuration[a.Index] != AxleState.Loaded || stands.Loads.Axles[a.Index] >= LeastAxleLoad));
    }

    private Configuration Configuration()
    {
        var configuration = default(Configuration);
        foreach (var axle in truth.Described.Axles)
            if (units[axle.Body].Lifts[axle.Index - truth.Described.Bodies[axle.Body].FirstAxle] is { } lift)
                configuration = configuration.With(axle.Index, JourneyPlayer.StateOf(lift));
        return configuration;
    }

    private double[] Payload()
    {
        var payload = new double[truth.Described.StateSize];
        foreach (var body in truth.Described.Bodies.Where(b => b.StateIndex >= 0))
        {
            payload[body.StateIndex] = units[body.Index].Kilograms;
            payload[body.StateIndex + 1] = units[body.Index].Kilograms * units[body.Index].Centre;
        }

        return payload;
    }
}

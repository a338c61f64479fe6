using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>What happens to a lane when the vehicles in it are coupled anew: it ends, and the lane after it takes over what stays true.</summary>
public static class LaneHandover
{
    /// <summary>Ends a lane: every open episode is closed, since what it was found about exists no longer.</summary>
    /// <param name="lane">The lane; to be given no readings afterwards.</param>
    /// <param name="at">When it ends.</param>
    /// <param name="outputs">Receives the closed episodes.</param>
    public static void End(Lane lane, Moment at, List<LaneOutput> outputs)
    {
        lane.CloseAccount(at.UnixMilliseconds, outputs);
        for (var slot = 0; slot < lane.State.Episodes.Length; slot++)
        {
            ref var episode = ref lane.State.Episodes[slot];
            if (episode.Level == Level.Clear) continue;
            outputs.Add(new LaneOutput.Episode(
                at, lane.Setup.Catalog.Keys[slot], EpisodeChange.Closed, Level.Clear, new Moment(episode.OpenSince), new FindingDetail.None()));
            episode = default;
        }
    }

    /// <summary>
    /// Gives a new lane what was known of movement, and of the vehicles that are in both: lifts, conditions, sensors. What
    /// is aboard is measured anew, from the coupling on; until then <see cref="Load"/> says what was known of it.
    /// </summary>
    /// <param name="from">The lane that ended.</param>
    /// <param name="to">The lane that begins; it has seen nothing.</param>
    /// <param name="at">When the vehicles were coupled.</param>
    public static void TakeOver(Lane from, Lane to, Moment at)
    {
        to.State.Motion = from.State.Motion;
        // The load counts as measured only once the vehicles have rolled together.
        to.State.Motion.MetresSinceStop = 0;
        to.State.Load.StopBegan = at.UnixMilliseconds;
        to.State.Account.Curve = default;
        to.State.Load.Claims = 0;
        to.TakePlace();
        foreach (var body in to.Setup.Combination.Bodies)
        {
            if (Before(from, body) is not { } before) continue;
            to.State.Conditions[body.Index] = Kept(from.State.Conditions[before.Index]);
            for (var a = 0; a < body.Vehicle.Axles.Length; a++) to.State.Axles[body.FirstAxle + a] = Kept(from.State.Axles[before.FirstAxle + a]);
            for (var s = 0; s < body.Vehicle.Sensors.Length; s++) to.State.Sensors[body.FirstSensor + s] = Kept(from.State.Sensors[before.FirstSensor + s]);
        }

        to.OpenAccount(at.UnixMilliseconds);
    }

    /// <summary>What a lane knows of the payload of each body by itself, settled or from before it; all zero where it knows nothing.</summary>
    internal static ImmutableArray<BodyPayload> Aboard(Lane lane)
    {
        var state = lane.State;
        var measured = state.Payload.Readings > 0 && !Array.Exists(state.Aboard, a => a.IsKnown);
        return [.. lane.Setup.Combination.Bodies.Select(b => !measured ? state.Aboard[b.Index]
            // Where the load of one that nobody described stands is assumed, behind each vehicle in its own way.
            : b.StateIndex < 0 || b.Vehicle.IsStandIn ? default
            : PayloadTransfer.Of(state.Payload, b.StateIndex, state.Load.SettledAt))];
    }

    /// <summary>
    /// Gives a lane that has measured nothing what was known of the payload of its bodies. It may have changed since, until a settled reading
    /// decides; and nothing is stated of a whole of which a part is not known.
    /// </summary>
    /// <param name="to">The lane.</param>
    /// <param name="aboard">Payload of each body; all zero where nothing is known.</param>
    internal static void Load(Lane to, ReadOnlySpan<BodyPayload> aboard)
    {
        aboard.CopyTo(to.State.Aboard);
        var known = new List<BodyPayload>();
        foreach (var body in to.Setup.Combination.Bodies)
        {
            if (body.StateIndex < 0) continue;
            if (!aboard[body.Index].IsKnown) return;
            known.Add(aboard[body.Index]);
        }

        if (known.Count == 0) return;
        PayloadTransfer.Begin(to.State.Payload, known.ToArray());
        to.State.Load.SettledAt = known.Min(k => k.MeasuredAt);
    }

    /// <summary>
    /// True where nothing differs but the age of calibrations: the same vehicles under the same limits, the same lines, only less surely
    /// known. Then the lane goes on as it is, with its load and its episodes; what the load in hand was measured by keeps its sureness until the next.
    /// </summary>
    internal static bool IsOnlyOlder(LaneSetup from, LaneSetup to) =>
        from.Combination.Vehicles.Length == to.Combination.Vehicles.Length
        && from.Combination.Vehicles.Zip(to.Combination.Vehicles).All(v => v.First == v.Second)
        && from.Catalog.Keys.SequenceEqual(to.Catalog.Keys)
        && from.Law.IsSame(to.Law)
        && from.Table.HasLimitsOf(to.Table)
        && from.Estimator.Circuits.Zip(to.Estimator.Circuits).All(c => c.First.Fit with { GainVariance = c.Second.Fit.GainVariance, OffsetVariance = c.Second.Fit.OffsetVariance } == c.Second.Fit);

    /// <summary>True where a body of the lane that begins was in the one that ended: its lifts, conditions and sensors are taken over.</summary>
    internal static bool IsKept(Lane from, BodyPart body) => Before(from, body) is not null;

    /// <summary>The same vehicle with the same parts: described anew with others, nothing kept could be put in its place.</summary>
    private static BodyPart? Before(Lane from, BodyPart body) => from.Setup.Combination.Bodies.FirstOrDefault(b => b.Vehicle.Id == body.Vehicle.Id
        && b.Vehicle.Axles.Select(a => a.Key).SequenceEqual(body.Vehicle.Axles.Select(a => a.Key))
        && b.Vehicle.Sensors.Select(s => s.Key).SequenceEqual(body.Vehicle.Sensors.Select(s => s.Key)));

    private static AxleReport Kept(AxleReport axle)
    {
        axle.RaisedOverSince = 0;
        LiftWatch.Restart(ref axle);
        return axle;
    }

    private static ConditionState Kept(ConditionState condition)
    {
        condition.Misfits = 0;
        condition.ShortStopAt = 0;
        return condition;
    }

    private static SensorState Kept(SensorState sensor)
    {
        sensor.WindowSum = 0;
        sensor.WindowCount = 0;
        sensor.HasLastLoad = 0;
        sensor.Refused = 0;
        sensor.HasSettled = 0;
        sensor.SinceJump = 0;
        return sensor;
    }
}

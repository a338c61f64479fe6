using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Tests what is reported of a lift against the axle's own circuit: said to carry but relieved, said to be raised but carrying.
/// Only an axle with a circuit to itself can be tested: a shared one shows the mean of its axles.
/// <para>
/// Pressure alone does not dispute a raised axle. Its load bellows may still hold what they held when it was lifted, and
/// keep it for hours where the control shuts them off. But they hang free: no wheel works on them. So pressure must come
/// with road noise of at least half the neighbours', over a minute: a rough road shakes a raised axle too, but less.
/// </para>
/// </summary>
internal sealed class LiftWatch(LaneSetup setup, LaneState state, EpisodeTeller teller)
{
    private const double ResidualWithin = 50, NeighbourCarries = 4000;
    private const double RoadNoiseFrom = 0.3, PartOfNeighbours = 0.5, FeltFor = 60;

    /// <summary>A block of ten seconds of one sensor has ended.</summary>
    public void AfterBlock(int index, long at, List<LaneOutput> outputs)
    {
        var part = setup.Combination.Sensors[index];
        if (part.Axles.Length != 1 || setup.Combination.Axles[part.Axles[0]].Axle.Lift is null) return;
        ref var axle = ref state.Axles[part.Axles[0]];
        if (axle.Known == 0) return;
        if (axle.Definite is LiftReport.Loaded or LiftReport.Lowered) LookForRelief(part, ref axle, at, outputs);
        else if (axle.Definite == LiftReport.Raised) LookForLie(part, ref axle, at, outputs);
    }

    /// <summary>The switch changed: what was held against its last word is gone.</summary>
    public void Reported(int index, long at, List<LaneOutput> outputs)
    {
        ref var axle = ref state.Axles[index];
        axle.Disputed = 0;
        Restart(ref axle);
        teller.Tell(setup.Catalog.OfAxle(FindingKind.LiftDisputed, index), false, 1, at, outputs);
        if (axle.Report is not (LiftReport.Raised or LiftReport.Unloaded)) return;
        axle.Relieved = 0;
        teller.Tell(setup.Catalog.OfAxle(FindingKind.AxleRelieved, index), false, 1, at, outputs);
    }

    /// <summary>What was compared so far no longer counts.</summary>
    public static void Restart(ref AxleReport axle)
    {
        axle.FeltSince = 0;
        axle.FeltOwn = 0;
        axle.FeltNext = 0;
    }

    private void LookForRelief(SensorPart part, ref AxleReport axle, long at, List<LaneOutput> outputs)
    {
        var relieved = !HoldsPressure(part) && NeighbourIsHeavy(part, at);
        axle.Relieved = (byte)(relieved ? 1 : 0);
        // 'Lowered' leaves it open whether the axle carries; 'loaded' claims it does, and is contradicted.
        teller.Tell(setup.Catalog.OfAxle(FindingKind.AxleRelieved, part.Axles[0]), relieved && axle.Definite == LiftReport.Loaded, 1, at, outputs);
    }

    private void LookForLie(SensorPart part, ref AxleReport axle, long at, List<LaneOutput> outputs)
    {
        if (!HoldsPressure(part))
        {
            axle.Disputed = 0;
            Restart(ref axle);
        }
        else if (axle.Disputed == 0)
        {
            Compare(part, ref axle, at);
        }

        teller.Tell(setup.Catalog.OfAxle(FindingKind.LiftDisputed, part.Axles[0]), axle.Disputed != 0, 1, at, outputs, state.Sensors[part.Index].Mean, "kPa");
    }

    /// <summary>Compares how circuit and neighbours work on the same minute of road: the noise of one block alone is too rough a measure.</summary>
    private void Compare(SensorPart part, ref AxleReport axle, long at)
    {
        var own = state.Sensors[part.Index].RoadNoise;
        var next = NeighboursNoise(part, at);
        // One block is rough, but where it rests altogether while the others work, the minute begins anew.
        if (own < PartOfNeighbours / 2 * next || next <= 0 || MotionTracker.Now(state.Motion, at) != Movement.Rolling)
        {
            Restart(ref axle);
            return;
        }

        if (axle.FeltSince == 0) axle.FeltSince = at - (long)(1000 * SensorState.BlockSeconds);
        axle.FeltOwn += own;
        axle.FeltNext += next;
        if (MotionTracker.Seconds(axle.FeltSince, at) < FeltFor) return;
        axle.Disputed = (byte)(axle.FeltOwn >= PartOfNeighbours * axle.FeltNext ? 1 : 0);
        Restart(ref axle);
    }

    /// <summary>True where a circuit shows more than a raised axle's may hold.</summary>
    public static bool HoldsPressure(SensorPart part, LaneState state) =>
        state.Sensors[part.Index].Mean >= part.Sensor.RaisedResidual.Kilopascals + ResidualWithin;

    private bool HoldsPressure(SensorPart part) => HoldsPressure(part, state);

    /// <summary>Mean road noise of the other circuits of the group that feel the road, kPa; 0 where none does.</summary>
    private double NeighboursNoise(SensorPart part, long at)
    {
        var noise = 0.0;
        var circuits = 0;
        var body = setup.Combination.Bodies[part.Body];
        for (var s = body.FirstSensor; s < body.FirstSensor + body.Vehicle.Sensors.Length; s++)
        {
            ref var other = ref state.Sensors[s];
            if (!IsNeighbour(part, s) || other.MeanAt == 0 || MotionTracker.Seconds(other.MeanAt, at) > 2 * SensorState.BlockSeconds) continue;
            if (other.RoadNoise < RoadNoiseFrom) continue;
            noise += other.RoadNoise;
            circuits++;
        }

        return circuits == 0 ? 0 : noise / circuits;
    }

    private bool NeighbourIsHeavy(SensorPart part, long at)
    {
        var body = setup.Combination.Bodies[part.Body];
        for (var s = body.FirstSensor; s < body.FirstSensor + body.Vehicle.Sensors.Length; s++)
        {
            if (!IsNeighbour(part, s) || !PressureTracker.IsKnown(state.Sensors[s], at)) continue;
            var unsprung = setup.Combination.Axles[setup.Combination.Sensors[s].Axles[0]].Axle.Unsprung.Kilograms;
            if (setup.Estimator.Circuits[s].Fit.At(state.Sensors[s].Mean) + unsprung > NeighbourCarries) return true;
        }

        return false;
    }

    private bool IsNeighbour(SensorPart part, int sensor)
    {
        var body = setup.Combination.Bodies[part.Body];
        var local = part.Axles[0] - body.FirstAxle;
        var group = body.Vehicle.Front?.Axles.Contains(local) == true ? body.Vehicle.Front : body.Vehicle.Rear;
        return sensor != part.Index && group.Axles.Contains(setup.Combination.Sensors[sensor].Axles[0] - body.FirstAxle);
    }
}

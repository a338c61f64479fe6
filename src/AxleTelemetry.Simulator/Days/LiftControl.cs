using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What the automatic of each lift wants, by the thresholds of its description.</summary>
internal static class LiftControl
{
    /// <summary>What an axle should do; its neighbours are the other axles on the road in its group.</summary>
    public static AxleState Wanted(Rig rig, AxlePart axle)
    {
        var lift = axle.Axle.Lift!;
        var raised = rig.With(rig.Configuration.With(axle.Index, AxleState.Raised));
        var down = rig.With(rig.Configuration.With(axle.Index, AxleState.Loaded));
        if (raised is null) return AxleState.Loaded;
        if (down is null) return AxleState.Raised;
        var most = Neighbours(rig, axle).Max(n => raised.Level.Axles[n.Index] / Reference(n));
        return rig.Configuration[axle.Index] == AxleState.Raised
            ? most > lift.LowerAbove ? AxleState.Loaded : AxleState.Raised
            : most < lift.RaiseBelow ? AxleState.Raised : AxleState.Loaded;
    }

    /// <summary>True where the axle would be over its threshold if it stayed up.</summary>
    public static bool MustBeDown(Rig rig, AxlePart axle)
    {
        var raised = rig.With(rig.Configuration.With(axle.Index, AxleState.Raised));
        return raised is not null && Neighbours(rig, axle).Any(n => raised.Level.Axles[n.Index] > axle.Axle.Lift!.LowerAbove * Reference(n));
    }

    private static IEnumerable<AxlePart> Neighbours(Rig rig, AxlePart axle)
    {
        var body = rig.Described.Bodies[axle.Body];
        var group = body.Vehicle.Rear.Axles.Contains(axle.Index - body.FirstAxle) ? body.Vehicle.Rear : body.Vehicle.Front!;
        return group.Axles.Where(a => a + body.FirstAxle != axle.Index).Select(a => rig.Described.Axles[a + body.FirstAxle]);
    }

    // The control is set to what is permitted, not to what the axle would bear.
    private static double Reference(AxlePart axle) =>
        Math.Min(axle.Axle.Rating.Kilograms, axle.Axle.Registered?.Kilograms ?? double.MaxValue);
}

using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>
/// What the automatic control of a lift would do: it sets the axle down when a neighbour in the group, or a front axle,
/// carries more than a fraction of its rating, and lets it rise when they would carry less than another.
/// Regulation (EU) 2021/535, Annex XIII: lowered automatically at the registered maximum of the nearest or front axles.
/// </summary>
internal static class LiftRule
{
    /// <summary>True where the control would set the axle down in this configuration.</summary>
    public static bool WouldLower(LoadModel model, PayloadEstimate estimate, Configuration configuration, int axle) =>
        AnyNeighbour(model, estimate, configuration, axle, model.Combination.Axles[axle].Axle.Lift!.LowerAbove);

    /// <summary>True where the control would let the axle rise: no neighbour would come above its threshold without it.</summary>
    public static bool WouldLetRise(LoadModel model, PayloadEstimate estimate, Configuration raised, int axle) =>
        !AnyNeighbour(model, estimate, raised, axle, model.Combination.Axles[axle].Axle.Lift!.RaiseBelow);

    private static bool AnyNeighbour(LoadModel model, PayloadEstimate estimate, Configuration configuration, int axle, double fraction)
    {
        if (model.MapAt(configuration, estimate.State) is not { } map) return true;
        var body = model.Combination.Bodies[model.Combination.Axles[axle].Body];
        var local = axle - body.FirstAxle;
        var group = body.Vehicle.Front?.Axles.Contains(local) == true ? body.Vehicle.Front : body.Vehicle.Rear;
        if (Exceeds(body, group, map, axle, fraction, estimate.State)) return true;
        return body.Vehicle.Front is { } ahead && !ReferenceEquals(ahead, group) && Exceeds(body, ahead, map, axle, fraction, estimate.State);
    }

    private static bool Exceeds(BodyPart body, AxleGroup group, LoadMap map, int axle, double fraction, ReadOnlySpan<double> state)
    {
        foreach (var i in group.Axles)
        {
            if (body.FirstAxle + i == axle || map.Configuration[body.FirstAxle + i] == AxleState.Raised) continue;
            var rated = body.Vehicle.Axles[i];
            var most = rated.Registered is { } registered && registered < rated.Rating ? registered : rated.Rating;
            if (map.Load(body.FirstAxle + i, state) > fraction * most.Kilograms) return true;
        }

        return false;
    }
}

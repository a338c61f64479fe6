using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// A vehicle as it stands on the road in one configuration. Two decisions, both the stricter reading: how many axles a
/// vehicle has is counted by those whose wheels are on the road; what forms a group is decided by the loaded ones alone,
/// as an axle with relieved bellows carries next to nothing. Axles are indices into the vehicle.
/// </summary>
internal sealed class RoadBody(BodyPart part, Configuration configuration)
{
    public BodyPart Part => part;

    public VehicleDescription Vehicle => part.Vehicle;

    public ImmutableArray<int> OnRoad { get; } =
        [.. Enumerable.Range(0, part.Vehicle.Axles.Length).Where(i => configuration[part.FirstAxle + i] != AxleState.Raised)];

    public int RaisedCount => Vehicle.Axles.Length - OnRoad.Length;

    public int SteeredCount => OnRoad.Count(i => Vehicle.Axles[i] is { Role: AxleRole.Steer } or { Steering: Steering.Steered });

    public bool IsLoaded(int axle) => configuration[part.FirstAxle + axle] == AxleState.Loaded;

    public bool IsDriving(int axle) => Vehicle.Axles[axle].Role == AxleRole.Drive;

    /// <summary>Distance between the outermost axles on the road.</summary>
    public Length Span => OnRoad.IsEmpty ? default : Vehicle.Axles[OnRoad[^1]].Position - Vehicle.Axles[OnRoad[0]].Position;

    /// <summary>Distances between neighbours of some axles.</summary>
    public IEnumerable<Length> Spacings(ImmutableArray<int> axles) =>
        axles.Skip(1).Zip(axles, (rear, front) => Vehicle.Axles[rear].Position - Vehicle.Axles[front].Position);

    /// <summary>The axles of one support whose wheels are on the road.</summary>
    public ImmutableArray<int> Support(AxleGroup group) => [.. group.Axles.Where(OnRoad.Contains)];

    public bool IsClass(VehicleClass wanted) => wanted switch
    {
        VehicleClass.Motor => Vehicle.Kind.IsPowered(),
        VehicleClass.Trailer => !Vehicle.Kind.IsPowered() && Vehicle.Kind != VehicleKind.SemiTrailer,
        VehicleClass.SemiTrailer => Vehicle.Kind == VehicleKind.SemiTrailer,
        VehicleClass.AnyTrailer => !Vehicle.Kind.IsPowered(),
        _ => throw new ArgumentOutOfRangeException(nameof(wanted), wanted, "Unknown class."),
    };

    /// <summary>True where the driving axles among some axles are fitted as a rule asks.</summary>
    public bool Meets(Fitting? fitting, ImmutableArray<int> among)
    {
        if (fitting is null) return true;
        var driving = among.Where(IsDriving).ToArray();
        return driving.Length > 0
            && (!fitting.Twin || driving.All(i => Vehicle.Axles[i].Tyres.Twin))
            && (!fitting.Air || driving.All(HasAir))
            && (fitting.EachAxleAtMost is not { } most || among.All(i => (Vehicle.Axles[i].Registered ?? Vehicle.Axles[i].Rating) <= most));
    }

    private bool HasAir(int axle) =>
        Vehicle.Front is { } front && front.Axles.Contains(axle) ? front.AirSuspension : Vehicle.Rear.AirSuspension;
}

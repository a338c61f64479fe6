namespace AxleTelemetry.Domain.Running;

/// <summary>What one axle does to every metre of road, and the road to it. <c>default</c>: raised, nothing.</summary>
/// <param name="TyreNewtons">Rolling resistance of its tyres, N, without hubs and brakes.</param>
/// <param name="ScrubNewtons">Work per metre of tyres that slip sideways in bends, N.</param>
/// <param name="TreadNewtons">Tread energy of all its tyres per metre, N, which is MN m per 1 000 km; with what rolling free wears.</param>
/// <param name="Turns">True on the road, loaded or not.</param>
public readonly record struct AxleWork(double TyreNewtons, double ScrubNewtons, double TreadNewtons, bool Turns)
{
    /// <summary>Over a distance. Of the axles of one vehicle only one may bring the distance itself: <see cref="StretchWork.Sum"/>.</summary>
    public RoadWork Over(double metres) => new(
        metres, TyreNewtons * metres, Turns ? metres : 0, ScrubNewtons * metres, TreadNewtons * metres / 1e6);
}

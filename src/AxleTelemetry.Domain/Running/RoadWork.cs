namespace AxleTelemetry.Domain.Running;

/// <summary>
/// What a stretch of road, or the difference between two ways of driving it, adds up to before any price is put on it. Sums of stretches
/// are sums of these, so an account may be valued anew with other prices and drags without running anything again.
/// </summary>
/// <param name="Metres">Distance.</param>
/// <param name="TyreJoules">Rolling resistance of the tyres on the road times distance, by the tyres' stated coefficients.</param>
/// <param name="TurningMetres">Axles on the road times distance: what the drag of hubs and brakes is multiplied with.</param>
/// <param name="ScrubJoules">Work of tyres that slip sideways in bends, with the slip stiffness assumed per kilogram.</param>
/// <param name="Tread">
/// Tread energy of all tyres, MN m: HDM-4's TE, which is MN m per 1 000 km and tyre, times distance, and with it the wear of rolling free as the
/// energy that wears as much (<see cref="StretchWork.FreeRollingTread"/>). So the rubber worn off is one coefficient times this.
/// </param>
public readonly record struct RoadWork(double Metres, double TyreJoules, double TurningMetres, double ScrubJoules, double Tread)
{
    /// <summary>Both one after the other.</summary>
    public static RoadWork operator +(RoadWork a, RoadWork b) =>
        new(a.Metres + b.Metres, a.TyreJoules + b.TyreJoules, a.TurningMetres + b.TurningMetres, a.ScrubJoules + b.ScrubJoules, a.Tread + b.Tread);

    /// <summary>What one costs more than the other over the same road; the distance stays that of the first.</summary>
    public static RoadWork operator -(RoadWork a, RoadWork b) =>
        new(a.Metres, a.TyreJoules - b.TyreJoules, a.TurningMetres - b.TurningMetres, a.ScrubJoules - b.ScrubJoules, a.Tread - b.Tread);
}

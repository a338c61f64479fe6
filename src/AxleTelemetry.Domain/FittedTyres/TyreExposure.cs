namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>What a tyre, or all tyres of an axle, went through.</summary>
/// <param name="Metres">Road under it while it turned, m.</param>
/// <param name="KilogramMetres">Load times road, kg m.</param>
/// <param name="Tread">Tread energy, MN m (see <see cref="Running.RoadWork.Tread"/>).</param>
/// <param name="ScrubJoules">Work of slipping sideways, J.</param>
public readonly record struct TyreExposure(double Metres, double KilogramMetres, double Tread, double ScrubJoules)
{
    /// <summary>One after the other.</summary>
    public static TyreExposure operator +(TyreExposure a, TyreExposure b) =>
        new(a.Metres + b.Metres, a.KilogramMetres + b.KilogramMetres, a.Tread + b.Tread, a.ScrubJoules + b.ScrubJoules);

    /// <summary>One tyre's part of an axle's: the whole road, and an equal part of load, tread and scrub.</summary>
    public TyreExposure OneOf(int tyres) => new(Metres, KilogramMetres / tyres, Tread / tyres, ScrubJoules / tyres);
}

/// <summary>A day of one axle.</summary>
/// <param name="Vehicle">Id of the vehicle.</param>
/// <param name="Axle">Key of the axle.</param>
/// <param name="Day">The day.</param>
/// <param name="Tyres">How many tyres the axle has, recorded or not.</param>
/// <param name="Exposure">Of all of them together; the road once.</param>
public readonly record struct AxleDay(string Vehicle, string Axle, DateOnly Day, int Tyres, TyreExposure Exposure);

using System.Collections.Immutable;

namespace AxleTelemetry.Simulator.Routes;

/// <summary>
/// A route as a road: every 50 m a place, its corners rounded, with swings and rises between the points. Places, distances,
/// headings and grades belong together: one metre of road is one metre of the way between two places.
/// </summary>
internal sealed class Road
{
    /// <summary>Steepest that any of it is.</summary>
    public const double MostGrade = 0.06;

    private const double Step = 50;
    private const int Rounding = 4;
    private const double Quay = 500;

    private readonly RoadPlace[] _places;
    private readonly double[] _from;

    private Road(RoadPlace[] places)
    {
        _places = places;
        _from = new double[places.Length];
        for (var i = 1; i < places.Length; i++) _from[i] = _from[i - 1] + places[i - 1].MetresTo(places[i]);
        for (var i = 0; i < places.Length; i++) Shape(i);
    }

    /// <summary>Its length in m.</summary>
    public double Metres => _from[^1];

    /// <summary>The road along some points.</summary>
    public static Road Along(ImmutableArray<RoutePoint> points)
    {
        var raw = new List<RoadPlace>();
        for (var i = 0; i + 1 < points.Length; i++) raw.AddRange(Segment(points[i], points[i + 1]));
        raw.Add(Place(points[^1], points[^2].Road));
        return new Road([.. raw.Select((place, i) => Rounded(raw, i, place.Road))]);
    }

    /// <summary>Where one is after so many metres from its beginning.</summary>
    public RoadPlace At(double metres)
    {
        metres = Math.Clamp(metres, 0, Metres);
        var i = Math.Clamp((int)(metres / Metres * (_from.Length - 1)), 0, _from.Length - 2);
        while (i > 0 && _from[i] > metres) i--;
        while (i < _from.Length - 2 && _from[i + 1] <= metres) i++;
        return _places[i].Towards(_places[i + 1], (metres - _from[i]) / (_from[i + 1] - _from[i]));
    }

    /// <summary>The stretch by ship between two places, in the order it is met; <c>null</c> where there is none.</summary>
    public (double Near, double Far)? Ferry(double at, double to)
    {
        if (Sea is not { } sea) return null;
        if (at <= sea.Near && to >= sea.Far) return sea;
        return at >= sea.Far && to <= sea.Near ? (sea.Far, sea.Near) : null;
    }

    /// <summary>The stretch by ship that a place is on or close to.</summary>
    public (double Near, double Far)? FerryAround(double at) => Sea is { } sea && at > sea.Near - Quay && at < sea.Far + Quay ? sea : null;

    private (double Near, double Far)? Sea
    {
        get
        {
            var first = Array.FindIndex(_places, p => p.Road == RoadClass.Ferry);
            return first < 0 ? null : (_from[first], _from[Array.FindLastIndex(_places, p => p.Road == RoadClass.Ferry) + 1]);
        }
    }

    private static IEnumerable<RoadPlace> Segment(RoutePoint from, RoutePoint to)
    {
        RoadPlace a = Place(from, from.Road), b = Place(to, from.Road);
        var length = a.MetresTo(b);
        var count = Math.Max(1, (int)Math.Round(length / Step));
        var (depth, swing, rise, riseLength) = from.Road.Swing();
        var swings = Math.Max(1, Math.Round(length / swing));
        var rises = Math.Max(1, Math.Round(length / riseLength));
        depth *= Math.Min(1, length / swing);
        rise *= Math.Min(1, length / riseLength) * Math.Max(0, 1 - Math.Abs(to.Altitude - from.Altitude) / length / MostGrade);
        var (north, east) = a.Direction(b);
        for (var i = 0; i < count; i++)
        {
            var part = i / (double)count;
            var aside = depth / 2 * (1 - Math.Cos(2 * Math.PI * swings * part));
            var up = rise / 2 * (1 - Math.Cos(2 * Math.PI * rises * part));
            yield return a.Towards(b, part).Moved(-east * aside, north * aside, up);
        }
    }

    private static RoadPlace Place(RoutePoint point, RoadClass road) =>
        new(point.Latitude, point.Longitude, point.Altitude, 0, 0, 0, road);

    private static RoadPlace Rounded(List<RoadPlace> raw, int at, RoadClass road)
    {
        // Towards the ends over fewer, so that a road begins and ends at its points.
        var reach = Math.Min(Rounding, Math.Min(at, raw.Count - 1 - at));
        var near = raw.GetRange(at - reach, 2 * reach + 1);
        return new(near.Average(p => p.Latitude), near.Average(p => p.Longitude), near.Average(p => p.Altitude), 0, 0, 0, road);
    }

    private void Shape(int at)
    {
        var before = Math.Max(0, at - 1);
        var after = Math.Min(_places.Length - 1, at + 1);
        var heading = _places[before].HeadingTo(_places[after]);
        var grade = (_places[after].Altitude - _places[before].Altitude) / (_from[after] - _from[before]);
        var turn = at == 0 ? 0 : RoadPlace.Turn(_places[at - 1].Heading, heading) * Math.PI / 180 / (_from[at] - _from[at - 1]);
        _places[at] = _places[at] with { Heading = heading, Grade = grade, Curvature = turn };
    }
}

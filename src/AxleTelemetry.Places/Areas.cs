using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;

namespace AxleTelemetry.Places;

/// <summary>
/// Areas of countries, for the question in which one a point lies. It is asked once per cell of the grid, so crossings are counted over the whole outline each
/// time: an index over it would be ten times the outline. Made when first asked for; for any thread.
/// </summary>
internal sealed class Areas
{
    private readonly Lazy<Area>[] _areas;

    public Areas(Outlines outlines) =>
        _areas = [.. Enumerable.Range(0, outlines.Countries.Length).Select(c => new Lazy<Area>(() => new Area(outlines, c)))];

    /// <summary>Number of the country in which a point lies; 0 for none. Of two that share its edge the lower number.</summary>
    public byte Of(double latitude, double longitude)
    {
        for (var c = 1; c < _areas.Length; c++)
            if (_areas[c].Value is var area && (area.Has(latitude, longitude) || area.Has(latitude, longitude - 360) || area.Has(latitude, longitude + 360)))
                return (byte)c;
        return 0;
    }

    /// <summary>Outer rings and holes alike, in one row of points: counting crossings, a hole takes away what its outer ring gave.</summary>
    private sealed class Area
    {
        private readonly double[][] _rings;
        private readonly Envelope _around = new();

        public Area(Outlines outlines, int country)
        {
            _rings = [.. outlines.Rings[country].Select(r => Ring(outlines, r))];
            foreach (var ring in _rings)
                for (var i = 0; i < ring.Length; i += 2) _around.ExpandToInclude(ring[i], ring[i + 1]);
        }

        public bool Has(double latitude, double longitude)
        {
            var point = new Coordinate(longitude, latitude);
            if (!_around.Contains(point)) return false;
            var counter = new RayCrossingCounter(point);
            var (from, to) = (new Coordinate(), new Coordinate());
            foreach (var ring in _rings)
                for (var i = 2; i < ring.Length; i += 2)
                {
                    (from.X, from.Y, to.X, to.Y) = (ring[i - 2], ring[i - 1], ring[i], ring[i + 1]);
                    counter.CountSegment(from, to);
                }

            return counter.Location != Location.Exterior;
        }

        private static double[] Ring(Outlines outlines, IReadOnlyList<int> arcs)
        {
            var ring = new List<double>();
            foreach (var number in arcs)
            {
                var arc = outlines.Arcs[number < 0 ? -number - 1 : number];
                for (var i = 0; i < arc.Longitudes.Length; i++)
                {
                    // Where two arcs meet, both have the vertex.
                    if (i == 0 && ring.Count > 0) continue;
                    var at = number < 0 ? arc.Longitudes.Length - 1 - i : i;
                    // Over the date line longitudes go on: 181 and not -179.
                    var longitude = ring.Count == 0 ? arc.Longitudes[at] : ring[^2] + Math.IEEERemainder(arc.Longitudes[at] - ring[^2], 360);
                    ring.AddRange([longitude, arc.Latitudes[at]]);
                }
            }

            // A ring that comes back one turn further has gone around the pole in the south.
            if (ring.Count > 0 && Math.Abs(ring[^2] - ring[0]) > 180) ring.AddRange([ring[^2], -90, ring[0], -90]);
            if (ring.Count > 0) ring.AddRange([ring[0], ring[1]]);
            return [.. ring];
        }
    }
}

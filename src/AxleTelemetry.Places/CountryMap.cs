using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Places;

/// <summary>
/// Countries by position, from outlines of Natural Earth at 1:10 000 000. A function of its input alone, for any thread. Land without a code of
/// ISO 3166-1 is no country here. A position without a usable accuracy is taken as within 25 m; one worse than 15 km as within 15 km.
/// </summary>
public sealed class CountryMap : ICountryMap
{
    /// <summary>
    /// How far an outline may be off, m: its grid moves a vertex by up to 130 m east or west at 50 degrees and 94 m north or south, and 1:10 000 000 smooths
    /// out what is smaller. A side of a border is not claimed within it.
    /// </summary>
    public const double OutlineError = 250;

    /// <summary>Least width of the band along a border, m.</summary>
    public const double Band = 2_000;

    /// <summary>How far from its coast a country is still meant, m: quays, dams, bridges.</summary>
    public const double OffCoast = 2_000;

    private const double UnknownAccuracy = 25, WorstAccuracy = 15_000;
    private const byte NotLooked = byte.MaxValue;

    private static readonly Lazy<CountryMap> TheShipped = new(() =>
    {
        using var stream = typeof(CountryMap).Assembly.GetManifestResourceStream("countries-10m.json.gz")
            ?? throw new InvalidOperationException("The outlines are missing from the build.");
        return Open(stream);
    });

    private readonly Outlines _outlines;
    private readonly LineGrid _grid;
    private readonly Areas _areas;

    // The country in the middle of each cell; every thread finds the same.
    private readonly byte[] _middles = new byte[LineGrid.Columns * LineGrid.Rows];

    private CountryMap(Outlines outlines)
    {
        _outlines = outlines;
        _grid = new LineGrid(outlines);
        _areas = new Areas(outlines);
        _middles.AsSpan().Fill(NotLooked);
    }

    /// <summary>The shipped outlines, read once, when first asked for.</summary>
    public static CountryMap Shipped => TheShipped.Value;

    /// <summary>Countries on the map, by code.</summary>
    public IEnumerable<Country> Countries => _outlines.Countries.Skip(1).Order();

    /// <summary>Opens outlines as outlines/README.md describes them.</summary>
    /// <exception cref="InvalidDataException">They cannot be read.</exception>
    public static CountryMap Open(Stream gzipped) => new(Outlines.Read(gzipped));

    /// <inheritdoc/>
    public Whereabouts At(double latitude, double longitude, double accuracyMetres)
    {
        if (!(Math.Abs(latitude) <= 90) || !double.IsFinite(longitude)) return Whereabouts.Nowhere;
        if (Math.Abs(longitude) > 180) longitude = Math.IEEERemainder(longitude, 360);
        var accuracy = accuracyMetres >= 0 ? Math.Min(accuracyMetres, WorstAccuracy) : UnknownAccuracy;
        var cell = LineGrid.CellOf(latitude, longitude);
        var lines = _grid.At(cell);
        var band = Math.Max(Band, 3 * accuracy);
        if (lines.IsEmpty && band <= LineGrid.Reach) return Inside(Middle(cell));
        var view = new View(latitude, longitude);
        var here = CountryIn(cell, lines, view);
        if (here == 0) here = OffTheCoast(lines, view);
        if (here == 0) return Whereabouts.Nowhere;
        var nearest = band <= LineGrid.Reach ? Nearest(lines, here, view, default) : NearestAround(here, view, band);
        if (!(nearest.Metres <= band)) return Inside(here);
        var kind = nearest.Metres <= accuracy + OutlineError ? PlaceKind.Undecided : PlaceKind.NearBorder;
        return new Whereabouts(kind, _outlines.Countries[here], _outlines.Countries[nearest.Across], nearest.Metres, View.Bearing(nearest.East, nearest.North));
    }

    private Whereabouts Inside(byte country) => country == 0 ? Whereabouts.Nowhere : Whereabouts.Within(_outlines.Countries[country]);

    private byte Middle(int cell)
    {
        var known = _middles[cell];
        if (known != NotLooked) return known;
        var (latitude, longitude) = LineGrid.Middle(cell);
        return _middles[cell] = _areas.Of(latitude, longitude);
    }

    /// <summary>The way from the middle of the cell to the position crosses the edge of a country an odd number of times where they differ in being inside.</summary>
    private byte CountryIn(int cell, ReadOnlySpan<int> lines, View view)
    {
        var middle = Middle(cell);
        if (lines.IsEmpty) return middle;
        var (latitude, longitude) = LineGrid.Middle(cell);
        Span<bool> odd = stackalloc bool[256];
        odd.Clear();
        var crossed = false;
        foreach (var number in lines)
        {
            ref readonly var line = ref _grid.Lines[number];
            if (!Crosses(line, latitude, longitude, view)) continue;
            crossed = true;
            odd[line.One] ^= true;
            odd[line.Other] ^= true;
        }

        if (!crossed) return middle;
        for (var c = 1; c < _outlines.Countries.Length; c++)
            if (odd[c] != (c == middle)) return (byte)c;
        return 0;
    }

    private static bool Crosses(in Line line, double latitude, double longitude, View view)
    {
        var (dx, dy) = (view.Longitude - longitude, view.Latitude - latitude);
        // A vertex on the way counts to one side, so that the two lines that meet in it are crossed once together.
        var from = dx * (line.FromLatitude - latitude) - dy * (line.FromLongitude - longitude) > 0;
        var to = dx * (line.ToLatitude - latitude) - dy * (line.ToLongitude - longitude) > 0;
        if (from == to) return false;
        var (ex, ey) = (line.ToLongitude - line.FromLongitude, line.ToLatitude - line.FromLatitude);
        var start = ex * (latitude - line.FromLatitude) - ey * (longitude - line.FromLongitude) > 0;
        var end = ex * (view.Latitude - line.FromLatitude) - ey * (view.Longitude - line.FromLongitude) > 0;
        return start != end;
    }

    private byte OffTheCoast(ReadOnlySpan<int> lines, View view)
    {
        var (least, country) = (OffCoast * OffCoast, (byte)0);
        foreach (var number in lines)
        {
            ref readonly var line = ref _grid.Lines[number];
            var (squared, _, _) = view.To(line);
            if (squared >= least) continue;
            (least, country) = (squared, line.One != 0 ? line.One : line.Other);
        }

        return country;
    }

    private Border Nearest(ReadOnlySpan<int> lines, byte here, View view, Border nearest)
    {
        foreach (var number in lines)
        {
            ref readonly var line = ref _grid.Lines[number];
            if (!line.IsBorder || !line.IsOf(here)) continue;
            var (squared, east, north) = view.To(line);
            if (nearest.Across == 0 || squared < nearest.Squared) nearest = new Border(squared, east, north, line.One == here ? line.Other : line.One);
        }

        return nearest;
    }

    /// <summary>For positions so bad that a border may be meant which is out of reach of the cell.</summary>
    private Border NearestAround(byte here, View view, double band)
    {
        var nearest = default(Border);
        var (north, east) = view.Degrees(band);
        for (var latitude = view.Latitude - north; latitude < view.Latitude + north + 0.2; latitude += 0.2)
            for (var longitude = view.Longitude - east; longitude < view.Longitude + east + 0.2; longitude += 0.2)
                nearest = Nearest(_grid.At(LineGrid.CellOf(latitude, Math.IEEERemainder(longitude, 360))), here, view, nearest);
        return nearest;
    }

    private readonly record struct Border(double Squared, double East, double North, byte Across)
    {
        public double Metres => Across == 0 ? double.PositiveInfinity : Math.Sqrt(Squared);
    }
}

namespace AxleTelemetry.Places;

/// <summary>
/// Lines by cells of 0.2 degrees: each cell knows every line that lies within reach of it. So most places on earth meet an empty cell, and the others
/// some dozens of lines.
/// </summary>
internal sealed class LineGrid
{
    /// <summary>Cells around the earth.</summary>
    public const int Columns = 1800;

    /// <summary>Cells from pole to pole.</summary>
    public const int Rows = 900;

    /// <summary>What lies within this distance of a cell belongs to it, m.</summary>
    public const double Reach = 2_300;

    private const double CellsPerDegree = 5, MetresPerDegree = 110_500;

    private readonly int[] _first = new int[Columns * Rows + 1];
    private readonly int[] _lines;

    /// <summary>Sorts lines into cells.</summary>
    public LineGrid(Outlines outlines)
    {
        Line[] lines = [.. Of(outlines)];
        Lines = lines;
        for (var l = 0; l < lines.Length; l++) ForCells(lines[l], cell => _first[cell + 1]++);
        for (var c = 1; c < _first.Length; c++) _first[c] += _first[c - 1];
        _lines = new int[_first[^1]];
        var next = _first.AsSpan(0, Columns * Rows).ToArray();
        for (var l = 0; l < lines.Length; l++)
        {
            var number = l;
            ForCells(lines[l], cell => _lines[next[cell]++] = number);
        }
    }

    /// <summary>Every line.</summary>
    public Line[] Lines { get; }

    /// <summary>Cell of a position.</summary>
    public static int CellOf(double latitude, double longitude) => Row(latitude) * Columns + Column(longitude);

    /// <summary>Middle of a cell, degrees.</summary>
    public static (double Latitude, double Longitude) Middle(int cell) =>
        ((cell / Columns + 0.5) / CellsPerDegree - 90, (cell % Columns + 0.5) / CellsPerDegree - 180);

    /// <summary>Numbers of the lines in reach of a cell.</summary>
    public ReadOnlySpan<int> At(int cell) => _lines.AsSpan(_first[cell], _first[cell + 1] - _first[cell]);

    private static int Row(double latitude) => Math.Clamp((int)Math.Floor((latitude + 90) * CellsPerDegree), 0, Rows - 1);

    private static int Column(double longitude) => Math.Clamp((int)Math.Floor((longitude + 180) * CellsPerDegree), 0, Columns - 1);

    private static void ForCells(in Line line, Action<int> cell)
    {
        const double north = Reach / MetresPerDegree;
        var (least, most) = (Math.Min(line.FromLatitude, line.ToLatitude) - north, Math.Max(line.FromLatitude, line.ToLatitude) + north);
        var east = Reach / MetresPerDegree / Math.Max(0.01, Math.Cos(Math.Max(Math.Abs(least), Math.Abs(most)) * Math.PI / 180));
        var (left, right) = (Column(Math.Min(line.FromLongitude, line.ToLongitude) - east), Column(Math.Max(line.FromLongitude, line.ToLongitude) + east));
        for (var row = Row(least); row <= Row(most); row++)
            for (var column = left; column <= right; column++)
                cell(row * Columns + column);
    }

    private static IEnumerable<Line> Of(Outlines outlines)
    {
        foreach (var arc in outlines.Arcs)
        {
            // On both sides the same country, or none with a code: no edge of anything.
            if (arc.One == arc.Other) continue;
            for (var i = 1; i < arc.Longitudes.Length; i++)
                foreach (var line in Cut(new Line(arc.Latitudes[i - 1], arc.Longitudes[i - 1], arc.Latitudes[i], arc.Longitudes[i], arc.One, arc.Other)))
                    yield return line;
        }
    }

    /// <summary>The outlines go over the date line without a break: what does is cut there.</summary>
    private static IEnumerable<Line> Cut(Line line)
    {
        var degrees = line.ToLongitude - line.FromLongitude;
        if (Math.Abs(degrees) <= 180) return [line];
        var edge = degrees < 0 ? 180 : -180;
        var part = (edge - line.FromLongitude) / (degrees + 2 * edge);
        var latitude = line.FromLatitude + part * (line.ToLatitude - line.FromLatitude);
        return [line with { ToLatitude = latitude, ToLongitude = edge }, line with { FromLatitude = latitude, FromLongitude = -edge }];
    }
}

/// <summary>A straight piece of an outline, degrees, with the numbers of the countries on its sides; 0 for none.</summary>
internal readonly record struct Line(double FromLatitude, double FromLongitude, double ToLatitude, double ToLongitude, byte One, byte Other)
{
    /// <summary>True for a border between two countries.</summary>
    public bool IsBorder => One != 0 && Other != 0;

    /// <summary>True where it is an edge of a country.</summary>
    public bool IsOf(byte country) => One == country || Other == country;
}

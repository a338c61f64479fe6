using System.Collections.Immutable;
using System.IO.Compression;
using System.Text.Json;
using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Places;

/// <summary>
/// Outlines of countries as lines between vertices. A line that two countries share is there once and belongs to both; one that belongs to one country
/// is a coast, or the edge of a territory without a code, of which nothing is known.
/// </summary>
internal sealed class Outlines
{
    private Outlines(ImmutableArray<Country> countries, ImmutableArray<ImmutableArray<ImmutableArray<int>>> rings, Arc[] arcs)
    {
        Countries = countries;
        Rings = rings;
        Arcs = arcs;
    }

    /// <summary>The countries; the first is none.</summary>
    public ImmutableArray<Country> Countries { get; }

    /// <summary>Rings of each country as numbers of arcs; a negative number n is arc -n-1 taken backwards. An outer ring, or a hole: they are told apart by counting.</summary>
    public ImmutableArray<ImmutableArray<ImmutableArray<int>>> Rings { get; }

    /// <summary>The arcs.</summary>
    public Arc[] Arcs { get; }

    /// <summary>Reads gzipped outlines.</summary>
    /// <exception cref="InvalidDataException">They are not what outlines/README.md describes, with the place.</exception>
    public static Outlines Read(Stream gzipped)
    {
        try
        {
            using var text = new GZipStream(gzipped, CompressionMode.Decompress);
            using var document = JsonDocument.Parse(text);
            return Of(document.RootElement);
        }
        catch (Exception wrong) when (wrong is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or IndexOutOfRangeException)
        {
            throw new InvalidDataException($"The outlines cannot be read: {wrong.Message} Right is gzipped JSON with scale, translate, arcs and countries.", wrong);
        }
    }

    private static Outlines Of(JsonElement root)
    {
        var (scale, translate) = (Pair(root.GetProperty("scale")), Pair(root.GetProperty("translate")));
        Arc[] arcs = [.. root.GetProperty("arcs").EnumerateArray().Select(a => Unpack(a, scale, translate))];
        var countries = ImmutableArray.CreateBuilder<Country>();
        var rings = ImmutableArray.CreateBuilder<ImmutableArray<ImmutableArray<int>>>();
        countries.Add(default);
        rings.Add([]);
        foreach (var outline in root.GetProperty("countries").EnumerateArray())
        {
            if (!Country.TryFrom(outline.GetProperty("code").GetString(), out var country)) continue;
            var number = countries.IndexOf(country);
            ImmutableArray<ImmutableArray<int>> own = [.. outline.GetProperty("polygons").EnumerateArray().SelectMany(p => p.EnumerateArray()).Select(r => r.EnumerateArray().Select(n => n.GetInt32()).ToImmutableArray())];
            if (number < 0)
            {
                number = countries.Count;
                countries.Add(country);
                rings.Add(own);
            }
            else
            {
                rings[number] = rings[number].AddRange(own);
            }

            foreach (var arc in own.SelectMany(r => r).Select(n => n < 0 ? -n - 1 : n)) arcs[arc].Touch(checked((byte)number));
        }

        return new Outlines(countries.ToImmutable(), rings.ToImmutable(), arcs);
    }

    private static Arc Unpack(JsonElement arc, (double X, double Y) scale, (double X, double Y) translate)
    {
        var (xs, ys) = (new double[arc.GetArrayLength()], new double[arc.GetArrayLength()]);
        double x = 0, y = 0;
        var i = 0;
        foreach (var step in arc.EnumerateArray())
        {
            x += step[0].GetDouble();
            y += step[1].GetDouble();
            (xs[i], ys[i++]) = (x * scale.X + translate.X, y * scale.Y + translate.Y);
        }

        return new Arc(xs, ys);
    }

    private static (double X, double Y) Pair(JsonElement pair) => (pair[0].GetDouble(), pair[1].GetDouble());
}

/// <summary>A chain of lines with the countries it belongs to.</summary>
internal sealed class Arc(double[] longitudes, double[] latitudes)
{
    public double[] Longitudes => longitudes;

    public double[] Latitudes => latitudes;

    /// <summary>Number of one country; 0 where it belongs to none.</summary>
    public byte One { get; private set; }

    /// <summary>Number of the other; 0 for a coast. An arc that one country has on both sides belongs to it twice, and is no edge of it.</summary>
    public byte Other { get; private set; }

    public void Touch(byte country)
    {
        if (One == 0) One = country;
        else if (Other == 0) Other = country;
    }
}

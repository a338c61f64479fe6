using System.Collections.Immutable;
using System.Globalization;

namespace AxleTelemetry.Simulator.Routes;

/// <summary>A point of a route.</summary>
/// <param name="Latitude">Degrees north.</param>
/// <param name="Longitude">Degrees east.</param>
/// <param name="Altitude">m above sea level.</param>
/// <param name="Road">Class of the way to the next point.</param>
/// <param name="Country">Two letters of ISO 3166.</param>
public readonly record struct RoutePoint(double Latitude, double Longitude, double Altitude, RoadClass Road, string Country);

/// <summary>A way that trucks drive.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Points">Its points, at least two.</param>
public sealed record Route(string Name, ImmutableArray<RoutePoint> Points)
{
    private static readonly Lazy<ImmutableArray<Route>> Read = new(Load);

    private readonly Lazy<Road> _road = new(() => Road.Along(Points));

    /// <summary>The routes that come with the simulator.</summary>
    public static ImmutableArray<Route> All => Read.Value;

    internal Road Road => _road.Value;

    private static ImmutableArray<Route> Load()
    {
        using var stream = typeof(Route).Assembly.GetManifestResourceStream("routes.txt")
            ?? throw new InvalidOperationException("The routes are missing from the build.");
        using var reader = new StreamReader(stream);
        return [.. Parse(reader.ReadToEnd())];
    }

    private static IEnumerable<Route> Parse(string text)
    {
        foreach (var part in text.Split("route ")[1..])
        {
            var lines = part.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            yield return new Route(lines[0], [.. lines[1..].Select(Point)]);
        }
    }

    private static RoutePoint Point(string line)
    {
        var words = line.Split(' ');
        double Number(int at) => double.Parse(words[at], CultureInfo.InvariantCulture);
        return new RoutePoint(Number(0), Number(1), Number(2), Enum.Parse<RoadClass>(words[3], ignoreCase: true), words[4]);
    }
}

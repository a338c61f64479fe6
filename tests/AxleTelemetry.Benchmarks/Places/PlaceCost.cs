using System.Diagnostics;
using AxleTelemetry.Places;
using static System.FormattableString;

namespace AxleTelemetry.Benchmarks.Places;

/// <summary>Look-ups of countries a second, on one core: along roads, anywhere in Europe, and near borders.</summary>
internal static class PlaceCost
{
    private const int Count = 2_000_000;

    public static void Run()
    {
        var before = GC.GetTotalMemory(true);
        var clock = Stopwatch.StartNew();
        var map = CountryMap.Shipped;
        _ = map.At(48.2, 16.37, 5);
        var loaded = clock.Elapsed;
        Console.WriteLine(Invariant($"loaded in {loaded.TotalSeconds:0.00} s, {(GC.GetTotalMemory(true) - before) / 1048576.0:0} MiB"));
        var random = new Random(1);
        Measure("along roads", map, Roads(random));
        Measure("anywhere in Europe", map, Anywhere(random, _ => true));
        Measure("within 5 km of a border", map, Anywhere(random, p => map.At(p.Latitude, p.Longitude, 1_600).BorderMetres < 5_000));
    }

    private static void Measure(string name, CountryMap map, (double Latitude, double Longitude)[] places)
    {
        for (var warm = 0; warm < 2; warm++)
            foreach (var (latitude, longitude) in places) _ = map.At(latitude, longitude, 5);
        var (allocated, clock) = (GC.GetAllocatedBytesForCurrentThread(), Stopwatch.StartNew());
        long near = 0;
        for (var i = 0; i < Count; i++)
        {
            var (latitude, longitude) = places[i % places.Length];
            if (map.At(latitude, longitude, 5).Kind != Domain.Places.PlaceKind.Within) near++;
        }

        Console.WriteLine(Invariant($"{name}: {Count / clock.Elapsed.TotalSeconds / 1e6:0.0} million a second, {GC.GetAllocatedBytesForCurrentThread() - allocated} bytes, {100.0 * near / Count:0.0} % not well within a country"));
    }

    /// <summary>Vehicles that go 22 m a second over land for an hour each, wherever chance leads them.</summary>
    private static (double, double)[] Roads(Random random)
    {
        var places = new List<(double, double)>();
        while (places.Count < 180_000)
        {
            var (latitude, longitude, heading) = (44 + 9 * random.NextDouble(), 2 + 16 * random.NextDouble(), random.NextDouble() * 6.28);
            for (var s = 0; s < 3_600; s++)
            {
                heading += (random.NextDouble() - 0.5) * 0.02;
                latitude += 22 * Math.Cos(heading) / 111_200;
                longitude += 22 * Math.Sin(heading) / 74_000;
                places.Add((latitude, longitude));
            }
        }

        return [.. places];
    }

    private static (double Latitude, double Longitude)[] Anywhere(Random random, Func<(double Latitude, double Longitude), bool> wanted)
    {
        var places = new List<(double, double)>();
        while (places.Count < 100_000 && places.Capacity < 50_000_000)
        {
            var place = (44 + 9 * random.NextDouble(), 2 + 16 * random.NextDouble());
            if (wanted(place)) places.Add(place);
        }

        return [.. places];
    }
}

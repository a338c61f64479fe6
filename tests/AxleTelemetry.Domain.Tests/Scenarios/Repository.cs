using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>The files that scenarios are made of, where they are kept: goldens are refreshed in place.</summary>
internal static class Repository
{
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    public static string Scenarios { get; } = Path.Combine(Root, "tests", "AxleTelemetry.Domain.Tests", "Scenarios");

    public static ImmutableArray<string> Names { get; } =
        [.. Directory.EnumerateFiles(Scenarios, "*.txt").Select(Path.GetFileNameWithoutExtension).OfType<string>().Order(StringComparer.Ordinal)];

    public static LimitSet Limits { get; } = Assert.IsType<LimitSetResult.Parsed>(LimitSetFile.Shipped(LimitSetFile.Directive)).Set;

    public static VehicleDescription? Vehicle(string name)
    {
        var path = Path.Combine(Root, "deploy", "examples", name + ".json");
        return File.Exists(path) ? Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(path))).Vehicle : null;
    }

    private static string Find(string start)
    {
        for (var at = new DirectoryInfo(start); at is not null; at = at.Parent)
            if (File.Exists(Path.Combine(at.FullName, "Directory.Packages.props")))
                return at.FullName;
        throw new InvalidOperationException($"No repository above {start}.");
    }
}

using System.Globalization;
using System.Text.Json.Nodes;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>A fleet of as many rigids with a tag axle as wanted, as files, and the settings of a service that follows it.</summary>
internal static class LoadFleet
{
    public const string Fleet = "load";

    public static string Vehicle(int number) => string.Create(CultureInfo.InvariantCulture, $"RT-{number:00000}");

    public static string Topic(int number, string stream) => $"axles/v1/{Fleet}/{Vehicle(number)}/{stream}";

    /// <summary>Writes the files. Returns the path of the settings.</summary>
    public static string Write(string directory, int vehicles, int brokerPort, int httpPort = 8080)
    {
        var folder = Directory.CreateDirectory(Path.Combine(directory, "vehicles")).FullName;
        var example = JsonNode.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json")))!.AsObject();
        for (var i = 0; i < vehicles; i++)
        {
            example["id"] = Vehicle(i);
            // No two weigh the same.
            example["kerb"]!["axle_loads_kg"]!["steer"] = 4_800 + i * 7 % 401;
            File.WriteAllText(Path.Combine(folder, Vehicle(i) + ".json"), example.ToJsonString());
        }

        var settings = Path.Combine(directory, "axletelemetry.json");
        File.WriteAllText(settings, string.Create(CultureInfo.InvariantCulture, $$"""
            { "data_directory": "data", "broker": { "host": "127.0.0.1", "port": {{brokerPort}}, "tls": false }, "http": { "listen": "127.0.0.1:{{httpPort}}" },
              "fleets": { "{{Fleet}}": { "vehicles": "vehicles", "trip": "national" } } }
            """));
        return settings;
    }

    /// <summary>The configuration of such a fleet.</summary>
    public static FleetConfiguration Configuration(int vehicles)
    {
        var directory = Directory.CreateTempSubdirectory("fleet-").FullName;
        try
        {
            return ServiceReading.Read(Write(directory, vehicles, 1883)) switch
            {
                ServiceResult.Loaded loaded => loaded.Configuration.Fleets,
                ServiceResult.Refused refused => throw new InvalidOperationException(string.Join("; ", refused.Errors)),
                _ => throw new InvalidOperationException("An outcome of reading that nobody handles."),
            };
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Simulator.Recordings;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>The example vehicles as a fleet whose recordings are drawn.</summary>
internal static class RandomFleet
{
    public static RecordingScene Scene { get; } = new() { Fleet = "north", Vehicles = [.. Names().Select(Vehicle)], Seconds = 5400 };

    /// <summary>The fleet as the service is given it, calibrated by handbook and tickets.</summary>
    public static FleetConfiguration Configuration { get; } = Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Build(Sources())).Configuration;

    public static ImmutableArray<RecordedMessage> Recording(ulong seed, int seconds = 5400) => RandomRecording.Draw(seed, Scene with { Seconds = seconds });

    private static ConfigurationSources Sources()
    {
        var errors = new List<InputProblem>();
        var fleet = new FleetSettings { Name = "north", Vehicles = ExampleFiles.Of(""), Tickets = [ExampleFiles.Tickets] };
        var sources = new SourceReading(new SettingsPlace("examples"), errors).Read(TimeSpan.FromSeconds(60), [fleet]);
        Assert.Empty(errors);
        return sources;
    }

    private static IEnumerable<string> Names() =>
        ["rigid-6x2-tag", "rigid-6x2-pusher", "rigid-8x4-regulated-lift", "tractor-4x2", "tractor-6x2-pusher", "semi-tridem-lift-first", "semi-bare", "trailer-centre-axle"];

    private static VehicleDescription Vehicle(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(ExampleFiles.Of(name + ".json")))).Vehicle;
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A load is taken, driven with one stop, and brought on.</summary>
internal static class Haul
{
    /// <summary>Messages in the order received, of vehicles by their example files, the powered one first.</summary>
    public static ImmutableArray<RecordedMessage> Of(string load, int standMinutes, params string[] vehicles) => Of(null, load, standMinutes, vehicles);

    /// <summary>The same, beginning at a moment.</summary>
    public static ImmutableArray<RecordedMessage> Of(Moment? start, string load, int standMinutes, params string[] vehicles)
    {
        var text = $"""
            {string.Join('\n', vehicles.Select(v => "vehicle " + v))}
            trip national
            seed 1

            journey
            load {load} in 5 min
            drive 8 km at 70 km/h
            stop {standMinutes} min
            drive 6 km at 70 km/h
            stop 2 min

            findings
            """;
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Described)).Script;
        if (start is { } moment) script = script with { Start = moment };
        return [.. JourneyRecording.Of(script, JourneyPlayer.Play(script), "north").OrderBy(m => m.Received)];
    }

    private static Domain.Vehicles.VehicleDescription? Described(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(ExampleFiles.Of(name + ".json")))).Vehicle;
}

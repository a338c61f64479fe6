using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>A rigid truck drives with its tag axle raised and too much on the drive axle; then it stands for eight minutes.</summary>
internal static class RaisedHaul
{
    private const string Text = """
        vehicle rigid-6x2-tag
        calibration tickets
        trip national
        seed 1

        journey
        lift tag raised
        load 12 t at 4.3 m in 5 min
        drive 12 km at 70 km/h
        stop 8 min
        drive 2 km at 70 km/h

        findings
        """;

    /// <summary>Its messages in the order received.</summary>
    public static ImmutableArray<RecordedMessage> Messages { get; } = Drawn();

    /// <summary>As many of them as bring the first advice.</summary>
    public static ImmutableArray<RecordedMessage> UpToAdvice { get; } = Messages[..FirstAdvice()];

    private static ImmutableArray<RecordedMessage> Drawn() => Drawn(Text);

    /// <summary>The messages of a journey, in the order received.</summary>
    public static ImmutableArray<RecordedMessage> Drawn(string journey)
    {
        var script = JourneyText.Read(journey, name => Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(ExampleFiles.Of(name + ".json")))).Vehicle) switch
        {
            JourneyResult.Accepted accepted => accepted.Script,
            var other => throw new InvalidOperationException($"{other}"),
        };
        return [.. JourneyRecording.Of(script, JourneyPlayer.Play(script), "north").OrderBy(m => m.Received)];
    }

    private static int FirstAdvice()
    {
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        run.Configure(Messages[0].Received!.Value);
        for (var taken = 0; taken + 10 <= Messages.Length; taken += 10)
        {
            run.Append(Messages.Skip(taken).Take(10));
            if (run.Shard.State.Advices(run.Now) is [_, ..]) return taken + 10;
        }

        throw new InvalidOperationException("No advice was given.");
    }
}

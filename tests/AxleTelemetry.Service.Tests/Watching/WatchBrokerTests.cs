using System.Text;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>The whole way: a device's messages through a real broker into the program as it is run, and out again as sentences.</summary>
public class WatchBrokerTests
{
    private const string Topic = "axles/v1/example/RT-01/frame";

    private const int First = 40;

    private const string Overload = "Lower axle 3 (tag)", Idle = "Raise it at the next stop.", Ended = "axle 2 (drive) is within its limit";

    [Fact]
    public async Task A_journey_with_rubbish_in_between_is_followed_to_its_findings_and_remedies()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto();
        await broker.Start();
        await using var watch = RunningProgram.Watch("--broker", broker.Address, "--vehicles", ExampleFiles.Of(""));
        await watch.Errors.Until("Connected to");

        var recording = Path.Combine(broker.Folder, "frames.ndjson");
        WriteFrames(recording);
        var payloads = Payloads(recording);
        await broker.Publish(Topic, payloads.Take(First));
        await Rubbish(broker);
        await broker.Publish(Topic, payloads.Skip(First));

        var expected = Findings(Recorded(recording));
        Assert.Contains(expected, line => line.Contains(Ended, StringComparison.Ordinal));
        await watch.Output.Until(expected[^1]);
        // Not INT: a shell that starts a job in the background has it ignored, by all that the job starts.
        await watch.Signal("TERM");
        Assert.Equal(0, await watch.Exit());

        var lines = watch.Output.All;
        Assert.Contains(lines, l => l.StartsWith("2026-03-02T06:42:", StringComparison.Ordinal) && l.Contains("example/RT-01 Axle 2 (drive)", StringComparison.Ordinal) && l.Contains(Overload, StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains("Axle 3 (tag) is down for nothing", StringComparison.Ordinal) && l.EndsWith(Idle, StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains("example/XX-99 Unknown vehicle", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains("example/RT-01 Refused: out of range at samples[0].kpa.tag: 9999", StringComparison.Ordinal));
        Assert.Contains("Refused: bad name 1, not JSON 1, out of range 1, unknown sensor 1, unknown vehicle 1", lines);
        Assert.Equal(expected, Findings(lines));
    }

    [Fact]
    public async Task It_waits_for_the_broker_and_comes_back_to_it()
    {
        Mosquitto.SkipUnlessInstalled();
        await using var broker = new Mosquitto();
        await using var watch = RunningProgram.Watch("--broker", broker.Address, "--vehicles", ExampleFiles.Rigid, "--json", "--wait", "0");
        await watch.Errors.Until($"Cannot connect to {broker.Address}.");
        await broker.Start();
        await watch.Errors.Until($"Connected to {broker.Address}, listening");
        await broker.Kill();
        await watch.Errors.Until($"The connection to {broker.Address} is lost");
        await broker.Start();
        await watch.Errors.Until("again, but the broker has forgotten the session");
        await broker.Publish("axles/v1/example/RT-01/lift", """{"samples":[{"t":"2026-03-02T06:00:00Z","axles":{"tag":"raised"}}]}""");
        await watch.Output.Until("\"event\":\"configured\"");
        await watch.Signal("TERM");
        Assert.Equal(0, await watch.Exit());
        Assert.Contains("\"event\":\"summary\",\"messages\":1,", watch.Output.All[^1], StringComparison.Ordinal);
    }

    private static async Task Rubbish(Mosquitto broker)
    {
        await broker.Publish("axles/v1/example/RT-01/pressure", "this is not JSON");
        await broker.Publish("axles/v1/example/RT-01/pressure", """{"samples":[{"t":"2026-03-02T06:03:00Z","kpa":{"nowhere":400}}]}""");
        await broker.Publish("axles/v1/example/RT-01/pressure", """{"samples":[{"t":"2026-03-02T06:03:00Z","kpa":{"tag":9999}}]}""");
        await broker.Publish("axles/v1/example/XX-99/pressure", """{"samples":[{"t":"2026-03-02T06:03:00Z","kpa":{"tag":400}}]}""");
        // Matches a subscription by its number of levels, and is no topic of the contract: the vehicle has no id.
        await broker.Publish("axles/v1/example//pressure", "{}");
        await broker.Publish("axles/v1/example/RT-01/nonsense", "{}");
    }

    /// <summary>
    /// The frames of the shipped journey alone. Its other messages come behind the frames they belong to, so history is run again for them, after some seconds of
    /// quiet: what is told first then depends on how fast the messages come, and only what stands in the end does not.
    /// </summary>
    private static void WriteFrames(string file) =>
        File.WriteAllLines(file, File.ReadLines(ExampleFiles.Of("journey.ndjson")).Where(line => line.Contains($"\"topic\":\"{Topic}\"", StringComparison.Ordinal)));

    private static string[] Payloads(string recording)
    {
        using var stream = File.OpenRead(recording);
        return [.. new RecordingReader(stream).Entries().Select(entry => Encoding.UTF8.GetString(Assert.IsType<RecordingEntry.Read>(entry).Message.Payload.Span))];
    }

    private static string[] Recorded(string recording) => Invocation.Of("watch", "--recording", recording, "--vehicles", ExampleFiles.Of("")).Output.Split('\n');

    private static string[] Findings(IEnumerable<string> lines) =>
        [.. lines.Where(l => l.StartsWith("2026-", StringComparison.Ordinal) && l.Contains("/RT-01 ", StringComparison.Ordinal) && !l.Contains("Refused:", StringComparison.Ordinal))];
}

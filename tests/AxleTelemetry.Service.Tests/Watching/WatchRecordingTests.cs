using System.Text.Json;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Watching;

public sealed class WatchRecordingTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("watch");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void The_shipped_journey_is_followed_to_its_findings_with_nothing_left_out()
    {
        var run = Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of(""));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Lower axle 3 (tag)", run.Output, StringComparison.Ordinal);
        Assert.Contains("Readings not taken, and gaps: none", run.Output, StringComparison.Ordinal);
        Assert.Contains("certified weighbridge", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_line_of_JSON_is_an_object_and_the_last_is_the_summary()
    {
        var run = Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of(""), "--json");
        JsonElement[] lines = [.. run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)];
        Assert.All(lines[..^1], l => Assert.Equal("RT-01", l.GetProperty("vehicle").GetString()));
        Assert.Contains(lines, l => l.TryGetProperty("change", out var change) && change.GetString() == "Opened" && l.GetProperty("finding").GetString() == "Overload");
        Assert.Equal("summary", lines[^1].GetProperty("event").GetString());
        Assert.Equal(lines[^1].GetProperty("readings").GetInt64(), lines[^1].GetProperty("taken").GetInt64());
    }

    [Fact]
    public void A_line_that_is_no_message_is_refused_with_its_number_and_the_rest_goes_on()
    {
        var file = Save("""
            {"topic":"axles/v1/a/RT-01/lift","payload":{"samples":[{"t":1772431200000,"axles":{"tag":"raised"}}]}}
            no message
            """);
        var run = Invocation.Of("watch", "--recording", file, "--vehicles", ExampleFiles.Rigid);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("- Refused: NotJson at line 2: no message", run.Output, StringComparison.Ordinal);
        Assert.Contains("a/RT-01 Axle 3 (tag) raised.", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Trailers_can_be_stated_for_a_recording_without_couplings()
    {
        var file = Save("""{"topic":"axles/v1/a/ST-06/pressure","payload":{"samples":[{"t":1772431200000,"kpa":{"bogie":300}}]}}""");
        Assert.Contains("of which taken: 0", Invocation.Of("watch", "--recording", file, "--vehicles", ExampleFiles.Of("")).Output, StringComparison.Ordinal);
        Assert.Contains("of which taken: 1", Invocation.Of("watch", "--recording", file, "--vehicles", ExampleFiles.Of(""), "--coupled", "TR-04=ST-06").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Everything_that_is_wrong_is_said_at_once()
    {
        var run = Invocation.Of("watch", "--recording", "nowhere.ndjson", "--vehicles", "nothing.json", "--speed", "fast", "--coupled", "x", "--trip", "sideways");
        Assert.Equal(2, run.ExitCode);
        foreach (var source in (string[])["nowhere.ndjson: There is no such file.", "nothing.json: There is no such file.", "--speed:", "--coupled:", "--trip:"])
            Assert.Contains(source, run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData()]
    [InlineData("--broker", "a", "--recording", "b")]
    [InlineData("--broker", "a:b")]
    [InlineData("--broker", "a", "--speed", "2")]
    [InlineData("--broker", "a", "--password-file", "nowhere")]
    public void What_cannot_be_meant_is_bad_input(params string[] arguments) =>
        Assert.Equal(2, Invocation.Of(["watch", "--vehicles", ExampleFiles.Rigid, .. arguments]).ExitCode);

    private string Save(string text)
    {
        var path = Path.Combine(_folder.FullName, "recording.ndjson");
        File.WriteAllText(path, text);
        return path;
    }
}

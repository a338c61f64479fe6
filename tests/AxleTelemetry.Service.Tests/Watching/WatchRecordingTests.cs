using System.Text.Json;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Watching;

public sealed class WatchRecordingTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("watch");
    private int _received;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void The_shipped_journey_is_followed_to_its_findings_with_nothing_left_out()
    {
        var run = Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of(""));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Lower axle 3 (tag)", run.Output, StringComparison.Ordinal);
        Assert.Matches(@"\(O\) down axle 2 \(drive\) \d\.\d \+-0\.\d of 11\.5 t, ok", run.Output);
        Assert.Contains("Readings not taken, and gaps: none", run.Output, StringComparison.Ordinal);
        Assert.Contains("certified weighbridge", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_line_of_JSON_is_an_object_and_the_last_is_the_summary()
    {
        var run = Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of(""), "--json");
        JsonElement[] lines = [.. run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)];
        Assert.All(lines[..^1], l => Assert.Equal("RT-01", l.GetProperty("vehicle").GetString()));
        Assert.Contains(lines, l => l.TryGetProperty("change", out var change) && change.GetString() == "opened" && l.GetProperty("finding").GetString() == "overload");
        Assert.Equal("summary", lines[^1].GetProperty("event").GetString());
        Assert.Equal(lines[^1].GetProperty("readings").GetInt64(), lines[^1].GetProperty("taken").GetInt64());
        var loads = Assert.Single(lines[^1].GetProperty("loads").EnumerateArray());
        Assert.Equal(["steer", "drive", "tag"], loads.GetProperty("axles").EnumerateArray().Select(a => a.GetProperty("axle").GetString()));
        Assert.Equal(loads.GetProperty("gross_kg").GetDouble(), loads.GetProperty("axles").EnumerateArray().Sum(a => a.GetProperty("load_kg").GetDouble()), 0.5);
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
        Assert.Contains("- Refused: not JSON at line 2: no message", run.Output, StringComparison.Ordinal);
        Assert.Contains("a/RT-01 Axle 3 (tag) raised.", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_of_limits_may_lie_beside_the_vehicles_but_a_broken_vehicle_is_told()
    {
        var fleet = _folder.CreateSubdirectory("fleet");
        File.Copy(ExampleFiles.Rigid, Path.Combine(fleet.FullName, "rigid.json"));
        File.WriteAllBytes(Path.Combine(fleet.FullName, "limits.json"), LimitSetFile.ShippedText(LimitSetFile.Directive));
        Assert.Equal(0, Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", fleet.FullName).ExitCode);
        File.WriteAllText(Path.Combine(fleet.FullName, "broken.json"), "{");
        Assert.Equal(2, Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", fleet.FullName).ExitCode);
    }

    [Fact]
    public void Trailers_can_be_stated_for_a_recording_without_couplings()
    {
        var file = Save("""{"topic":"axles/v1/a/ST-06/pressure","payload":{"samples":[{"t":1772431200000,"kpa":{"bogie":300}}]}}""");
        Assert.DoesNotContain("TR-04", Invocation.Of("watch", "--recording", file, "--vehicles", ExampleFiles.Of("")).Output, StringComparison.Ordinal);
        var run = Invocation.Of("watch", "--recording", file, "--vehicles", ExampleFiles.Of(""), "--coupled", "TR-04=ST-06");
        Assert.Contains("a/TR-04 Pulls ST-06.", run.Output, StringComparison.Ordinal);
        Assert.Contains("TR-04 + ST-06 at 2026-03-02T06:00:00.000Z: not known, nothing measured yet", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_overload_is_told_with_interval_and_source_and_its_numbers_have_units()
    {
        string[] arguments = ["watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of("")];
        var plain = Invocation.Of(arguments).Output;
        Assert.Matches(@"Axle 2 \(drive\): 16\.\d t, give or take 1\.\d t; .* Limit from: Council Directive 96/53/EC, Annex I, 3\.4\.", plain);
        Assert.Contains("edition of 2019-08-14", plain, StringComparison.Ordinal);
        Assert.Contains("under 1 %", plain, StringComparison.Ordinal);
        var line = Invocation.Of([.. arguments, "--json"]).Output.Split('\n').First(l => l.Contains("\"overload\"", StringComparison.Ordinal));
        var json = JsonDocument.Parse(line).RootElement;
        Assert.Equal(("axle 2 (drive) over its limit", "drive", "RT-01"),
            (json.GetProperty("about").GetString(), json.GetProperty("axle").GetString(), json.GetProperty("axle_of").GetString()));
        Assert.Equal(11_500, json.GetProperty("limit_kg").GetDouble());
        Assert.Equal("2019-08-14", json.GetProperty("edition").GetString());
        Assert.InRange(json.GetProperty("load_half_width95_kg").GetDouble(), 500, 4000);
    }

    [Fact]
    public void What_late_readings_change_is_told_in_lines_and_in_JSON()
    {
        // A stop, ten minutes far too heavy and a stop to unload come after what followed them.
        var file = Save(string.Join('\n', [.. Frames(0, 300, 400, 20), .. Frames(960, 1300, 400, 20), .. Frames(300, 360, 1100, 0), .. Frames(360, 900, 1100, 20), .. Frames(900, 960, 400, 0)]));
        string[] arguments = ["watch", "--recording", file, "--vehicles", ExampleFiles.Rigid];
        var plain = Invocation.Of(arguments).Output;
        var line = Assert.Single(plain.Split('\n'), l => l.Contains("Found with readings that came late; ended at 2026-03-02T06:1", StringComparison.Ordinal) && l.Contains("over 11.5 t", StringComparison.Ordinal));
        Assert.Contains("a/RT-01 Axle 2 (drive): 18.5 t", line, StringComparison.Ordinal);
        Assert.EndsWith(" Limit from: Council Directive 96/53/EC, Annex I, 3.4.", line, StringComparison.Ordinal);
        Assert.Matches("Findings: .*overload 5", plain);
        var json = Invocation.Of([.. arguments, "--json"]).Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)
            .Single(l => l.GetProperty("event").GetString() == "revised" && l.GetProperty("finding").GetString() == "overload" && !l.GetProperty("told_with_another").GetBoolean());
        Assert.Equal(("found_ended", "drive", "axle 2 (drive) over its limit"), (json.GetProperty("change").GetString(), json.GetProperty("axle").GetString(), json.GetProperty("about").GetString()));
        Assert.True(json.GetProperty("ended").GetDateTimeOffset() > json.GetProperty("since").GetDateTimeOffset());
    }

    [Theory]
    [InlineData("XX-1=CA-08", "found 'XX-1'. No vehicle file among --vehicles describes it.")]
    [InlineData("RT-01=CA-08,XX-1", "found 'XX-1'. No vehicle file among --vehicles describes it.")]
    [InlineData("RT-01=ST-06", "'RT-01' is a rigid: a semi-trailer needs a fifth wheel.")]
    public void A_stated_coupling_that_cannot_be_is_told_before_anything_is_watched(string coupled, string expected)
    {
        var run = Invocation.Of("watch", "--recording", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Of(""), "--coupled", coupled);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains($"--coupled: {expected}", run.Output, StringComparison.Ordinal);
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
    [InlineData("--recording", "a", "--tls")]
    [InlineData("--recording", "a", "--username", "u")]
    [InlineData("--broker", "a", "--speed", "2")]
    [InlineData("--broker", "a", "--password-file", "nowhere")]
    public void What_cannot_be_meant_is_bad_input(params string[] arguments) =>
        Assert.Equal(2, Invocation.Of(["watch", "--vehicles", ExampleFiles.Rigid, .. arguments]).ExitCode);

    /// <summary>As received: a millisecond after one another in the order they stand.</summary>
    private IEnumerable<string> Frames(int from, int to, int kpa, int speed)
    {
        for (var i = from; i < to; i++)
            yield return $$"""{"topic":"axles/v1/a/RT-01/frame","received":{{WatchedConvoy.Begin + 7_200_000 + _received++}},"payload":{{WatchedConvoy.Frame(i, $"\"drive\":{kpa + i % 3},\"tag\":{kpa + i % 3}", speed)}}}""";
    }

    private string Save(string text)
    {
        var path = Path.Combine(_folder.FullName, "recording.ndjson");
        File.WriteAllText(path, text);
        return path;
    }
}

using AxleTelemetry.Service.Tests.Checking;
using AxleTelemetry.Service.Tests.Exporting;

namespace AxleTelemetry.Service.Tests.Replaying;

public sealed class ReplayCommandTests : IDisposable
{
    private readonly KeptFleet _kept = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("replay-");

    private static string Journey => ExampleFiles.Of("journey.ndjson");

    public void Dispose()
    {
        _kept.Dispose();
        _folder.Delete(recursive: true);
    }

    [Fact]
    public void The_shipped_journey_gives_loads_episodes_counts_and_a_digest()
    {
        var run = Invocation.Apart("replay", Journey, "--vehicles", ExampleFiles.Of(""));
        Assert.Equal(0, run.ExitCode);
        var lines = run.Output.Split('\n');
        Assert.StartsWith("RT-01 at 2026-03-02T07:12:36.000Z: standing, provisional", lines[0], StringComparison.Ordinal);
        Assert.Matches(@"^  \(O\) down axle 2 \(drive\) \d+\.\d \+-\d\.\d of 11\.5 t, ok$", lines[2]);
        Assert.Contains("Episodes: 9", lines);
        Assert.Contains(lines, l => l.StartsWith("  2026-03-02T06:41:37.000Z to 2026-03-02T07:00:14.000Z RT-01 overload, axle 2 (drive): surely, 4.9 t (+-1.8) over 11.5 t", StringComparison.Ordinal));
        Assert.Contains("Messages: 238, samples: 4377, received 2026-03-02T06:00:00.400Z to 2026-03-02T07:12:36.400Z", lines);
        Assert.Contains("Refused: none", lines);
        Assert.Single(lines, l => l.StartsWith("Digest: ", StringComparison.Ordinal));
        Assert.Contains("On-board estimate, not a certified weighing: a certified weighbridge and the competent authority decide.", lines);
        Assert.Contains("Done in", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Its_digest_is_that_of_a_journal_that_took_the_same_messages()
    {
        _kept.Serve(KeptFleet.Journey());
        var digest = _kept.Run("digest");
        Assert.Equal((0, ""), (digest.ExitCode, digest.Errors));
        Assert.Equal(digest.Output.TrimEnd()["main ".Length..], Digest(_kept.Run("replay", Journey)));
        Assert.Equal(digest.Output.TrimEnd()["main ".Length..], Digest(Invocation.Apart("replay", Journey, "--vehicles", ExampleFiles.Of(""))));
        Assert.NotEqual(digest.Output.TrimEnd()["main ".Length..], Digest(_kept.Run("replay", Save(File.ReadAllLines(Journey)[..200]))));
    }

    [Fact]
    public void A_broken_line_is_named_by_its_number_and_the_rest_goes_on()
    {
        var lines = File.ReadAllLines(Journey);
        var file = Save([.. lines[..100], "no message", .. lines[100..], """{"topic":"axles/v1/example/RT-01/pressure"}"""]);
        var run = _kept.Run("replay", file);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Line 101 is passed over: not JSON at line: no message", run.Errors, StringComparison.Ordinal);
        Assert.Contains("Line 240 is passed over: ", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Refused: none", run.Output, StringComparison.Ordinal);
        Assert.Equal(Digest(_kept.Run("replay", Journey)), Digest(run));
    }

    [Fact]
    public void Of_many_broken_lines_the_first_are_told()
    {
        var run = _kept.Run("replay", Save([.. Enumerable.Repeat("no message", 50), .. File.ReadAllLines(Journey)[..3]]));
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(20, run.Errors.Split('\n').Count(l => l.StartsWith("Line ", StringComparison.Ordinal)));
        Assert.Contains("Refused: not JSON 50", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("rigid-6x2-tag.json")]
    [InlineData("tickets-rt-01.csv")]
    public void A_file_that_is_no_recording_is_bad_input(string name)
    {
        foreach (var run in (Invocation[])[_kept.Run("replay", ExampleFiles.Of(name)), Invocation.Apart("replay", ExampleFiles.Of(name), "--vehicles", ExampleFiles.Of(""))])
        {
            Assert.Equal((2, ""), (run.ExitCode, run.Output));
            Assert.Contains($"{ExampleFiles.Of(name)}: It holds no message of a vehicle.", run.Errors, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_cannot_be_read_is_told()
    {
        Assert.Contains("nowhere.ndjson: There is no such file.", Refused("replay", "nowhere.ndjson", "--vehicles", ExampleFiles.Of("")), StringComparison.Ordinal);
        Assert.Contains("This is a directory. Name a file in it.", Refused("replay", _folder.FullName, "--vehicles", ExampleFiles.Of("")), StringComparison.Ordinal);
        Assert.Contains("nothing.json: There is no such file.", Refused("replay", Journey, "--vehicles", "nothing.json"), StringComparison.Ordinal);
        Assert.Contains("The directory holds no vehicle file (.json).", Refused("replay", Journey, "--vehicles", _folder.FullName), StringComparison.Ordinal);
        Assert.Contains("missing.json", Refused("replay", Journey, "--settings", "missing.json"), StringComparison.Ordinal);
        var refused = Refused("replay", Journey, "--vehicles", ExampleFiles.Of(""), "--trip", "sideways", "--limits", "nowhere.json");
        Assert.Contains("--trip: found 'sideways'", refused, StringComparison.Ordinal);
        Assert.Contains("nowhere.json: There is no such file.", refused, StringComparison.Ordinal);
    }

    [Fact]
    public void Options_that_would_be_passed_over_are_refused()
    {
        Assert.Contains("--trip: It goes with --vehicles only", Refused("replay", Journey, "--settings", _kept.Settings, "--trip", "national"), StringComparison.Ordinal);
        Assert.Contains("One of the two is needed, and not both.", Refused("replay", Journey, "--settings", _kept.Settings, "--vehicles", ExampleFiles.Of("")), StringComparison.Ordinal);
    }

    [Fact]
    public void Vehicles_that_the_settings_do_not_know_are_counted()
    {
        using var other = new KeptFleet("other");
        var run = other.Run("replay", Journey);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Vehicles nobody described: example/RT-01 238", run.Output, StringComparison.Ordinal);
        Assert.Contains("Episodes: 0", run.Output, StringComparison.Ordinal);
    }

    private static string Refused(params string[] arguments)
    {
        var run = Invocation.Apart(arguments);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        return run.Errors;
    }

    private static string Digest(Invocation replay) =>
        replay.Output.Split('\n').Single(l => l.StartsWith("Digest: ", StringComparison.Ordinal))["Digest: ".Length..];

    private string Save(string[] lines)
    {
        var file = Path.Combine(_folder.FullName, "recording.ndjson");
        File.WriteAllLines(file, lines);
        return file;
    }
}

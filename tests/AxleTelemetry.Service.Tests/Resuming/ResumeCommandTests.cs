using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Exporting;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Tests.Resuming;

/// <summary>A journal in which a lane stopped: its trailer was described anew as one that cannot hang where it hangs.</summary>
public sealed class ResumeCommandTests : IDisposable
{
    private const string Unit = "example/TR-04";
    private const long Begin = 1_772_431_200_000;

    private readonly KeptFleet _kept = new();

    public void Dispose() => _kept.Dispose();

    [Fact]
    public void A_stopped_lane_is_listed_with_its_reason()
    {
        Break();
        var run = _kept.Run("resume");
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        var line = Assert.Single(run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.StartsWith($"{Unit}: ", line, StringComparison.Ordinal);
        Assert.Contains("'ST-06' has a drawbar", line, StringComparison.Ordinal);
    }

    [Fact]
    public void With_nothing_repaired_it_stops_again_and_says_so()
    {
        Break();
        var run = _kept.Run("resume", Unit);
        Assert.Equal(1, run.ExitCode);
        Assert.Contains($"The lane of {Unit} stopped again: ", run.Output, StringComparison.Ordinal);
        Assert.StartsWith($"{Unit}: ", _kept.Run("resume").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lane_that_a_repaired_release_can_run_runs_again()
    {
        _kept.Serve(KeptFleet.Journey());
        var digest = _kept.Run("digest").Output;
        StopByAnEarlierRelease("RT-01");
        var behind = _kept.Run("digest");
        Assert.Equal(1, behind.ExitCode);
        Assert.Contains("still to be corrected of RT-01", behind.Errors, StringComparison.Ordinal);
        Assert.Equal("example/RT-01: a fault\n", _kept.Run("resume").Output);
        var run = _kept.Run("resume", "example/RT-01");
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        Assert.Equal("The lane of example/RT-01 runs again, its history with it.\n", run.Output);
        Assert.Equal("No lane has stopped.\n", _kept.Run("resume").Output);
        Assert.Equal((0, digest), (_kept.Run("digest").ExitCode, _kept.Run("digest").Output));
    }

    [Fact]
    public void One_that_goes_on_is_well_though_another_stands()
    {
        Break();
        _kept.Serve(KeptFleet.Journey());
        StopByAnEarlierRelease("RT-01");
        Assert.Equal(2, _kept.Run("resume").Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal(0, _kept.Run("resume", "example/RT-01").ExitCode);
        Assert.StartsWith($"{Unit}: ", _kept.Run("resume").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lane_runs_again_once_the_description_is_put_right()
    {
        Break();
        _kept.Serve(Frames(1400, 1700));
        Assert.StartsWith($"{Unit}: ", _kept.Run("resume").Output, StringComparison.Ordinal);
        var run = _kept.Run("resume", Unit);
        Assert.Equal((0, $"The lane of {Unit} runs again, its history with it.\n"), (run.ExitCode, run.Output));
        Assert.Equal("No lane has stopped.\n", _kept.Run("resume").Output);
        Assert.Equal(0, _kept.Run("digest").ExitCode);
        // A further restart takes it up where it was left.
        _kept.Serve(Frames(1800, 1900));
        Assert.Equal("No lane has stopped.\n", _kept.Run("resume").Output);
    }

    [Fact]
    public void Where_no_lane_stopped_it_says_so()
    {
        _kept.Serve(KeptFleet.Journey()[..50]);
        Assert.Equal((0, "No lane has stopped.\n"), (_kept.Run("resume").ExitCode, _kept.Run("resume").Output));
        var run = _kept.Run("resume", "example/RT-01");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("The lane of example/RT-01 had not stopped.", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("TR-04")]
    [InlineData("nobody/TR-04")]
    public void A_vehicle_that_is_none_is_bad_input_and_nothing_is_done(string vehicle)
    {
        Break();
        var run = _kept.Run("resume", vehicle);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains($"VEHICLE: found '{vehicle}'.", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_journal_it_says_so_and_makes_none()
    {
        var before = _kept.Files();
        var run = _kept.Run("resume");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("has no journal yet", run.Errors, StringComparison.Ordinal);
        Assert.Equal(before, _kept.Files());
    }

    [Fact]
    public void Of_a_journal_held_by_a_service_that_does_not_answer_it_says_so()
    {
        _kept.Serve(KeptFleet.Journey()[..50]);
        var (_, store) = _kept.Open();
        using (store)
        {
            var run = _kept.Run("resume", "example/RT-01");
            Assert.Equal((2, ""), (run.ExitCode, run.Output));
            Assert.Contains("127.0.0.1", Assert.Single(run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Through_a_running_service_it_lists_and_resumes_as_well()
    {
        Break();
        _kept.Serve(Frames(1400, 1700));
        await using var service = RunningProgram.Build("serve", "--settings", _kept.Settings);
        await service.Output.Until("http://");
        var list = _kept.Run("resume");
        Assert.Equal((0, ""), (list.ExitCode, list.Errors));
        Assert.StartsWith("The lane of TR-04 stopped by a fault of ours: ", Assert.Single(list.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        var other = _kept.Run("resume", "example/RT-01");
        Assert.Equal((0, "The lane of example/RT-01 had not stopped.\n"), (other.ExitCode, other.Output));
        var run = _kept.Run("resume", Unit);
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        Assert.StartsWith($"The lane of {Unit} runs again", run.Output, StringComparison.Ordinal);
        // Figures for health are taken now and then.
        await Eventually.Holds(() => _kept.Run("resume").Output == "No lane has stopped.\n", () => _kept.Run("resume").Output, TimeSpan.FromMilliseconds(50));
        await service.Signal("TERM");
        Assert.Equal(0, await service.Exit());
        Assert.Equal("No lane has stopped.\n", _kept.Run("resume").Output);
        Assert.Equal(0, _kept.Run("digest").ExitCode);
    }

    /// <summary>The journal as a release left it that met a fault of its own.</summary>
    private void StopByAnEarlierRelease(string vehicle)
    {
        var (run, store) = _kept.Open();
        using (store)
        {
            var key = Codes.Of(new VehicleName("example", vehicle));
            Assert.IsType<WriteOutcome.Committed>(store.Commit(new Batch(run.Shard.LastBatch + 1)
            {
                Checkpoints = [new CheckpointRow(key, Codes.Stopped, 1, [.. "a fault"u8])],
                Corrections = [new CorrectionMark.From(key, new Moment(Begin + 2_400_000))],
            }));
        }
    }

    /// <summary>Coupled and driving; then the trailer is described as one with a drawbar, and they drive on.</summary>
    private void Break()
    {
        _kept.Serve([Coupling(), .. Frames(0, 300)]);
        var semi = File.ReadAllBytes(_kept.Vehicle("semi-tridem-lift-first.json"));
        File.WriteAllText(_kept.Vehicle("semi-tridem-lift-first.json"), File.ReadAllText(ExampleFiles.Of("trailer-centre-axle.json")).Replace("CA-08", "ST-06", StringComparison.Ordinal));
        _kept.Serve(Frames(400, 700));
        File.WriteAllBytes(_kept.Vehicle("semi-tridem-lift-first.json"), semi);
    }

    private static RecordedMessage Coupling() => Message("coupling", 0, "\"trailers\":[\"ST-06\"]");

    private static IEnumerable<RecordedMessage> Frames(int from, int to) =>
        Enumerable.Range(from, to - from).Select(i => Message("frame", i, $"\"kpa\":{{\"drive\":{500 + i % 3}}},\"lat\":46,\"lon\":15,\"speed_mps\":20"));

    private static RecordedMessage Message(string stream, int second, string fields)
    {
        var at = Begin + 1000L * second;
        return new($"axles/v1/example/TR-04/{stream}", Encoding.UTF8.GetBytes($$"""{"samples":[{"t":{{at}},{{fields}}}]}"""), new Moment(at + 500));
    }
}

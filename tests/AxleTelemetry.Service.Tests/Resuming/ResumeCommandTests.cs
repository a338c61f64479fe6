using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Exporting;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Resuming;

/// <summary>A journal in which a lane stopped, as a rule of ours broke in it.</summary>
public sealed class ResumeCommandTests : IDisposable
{
    private const string Unit = "example/TR-04", Fault = "the sum of axles is not the gross";
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
        Assert.EndsWith($": {Fault}", line, StringComparison.Ordinal);
    }

    [Fact]
    public void With_nothing_repaired_it_stops_again_and_says_so()
    {
        Break();
        var (run, store) = _kept.Open(Broken);
        using (store)
        using (var output = new StringWriter())
        {
            Assert.Equal(1, new OfflineResume(run.Shard, output).Run([Unit]));
            Assert.Contains($"The lane of {Unit} stopped again: ", output.ToString(), StringComparison.Ordinal);
        }

        Assert.StartsWith($"{Unit}: ", _kept.Run("resume").Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(20)]
    public void Once_repaired_it_runs_again_with_the_history_it_would_have_had(int steps)
    {
        _kept.Serve(Breaking(steps), Messages());
        Assert.Equal(1, _kept.Run("digest").ExitCode);
        Assert.Contains($"The lanes of {Unit} have stopped by a fault", _kept.Run("digest").Errors, StringComparison.Ordinal);
        var run = _kept.Run("resume", Unit);
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        Assert.Equal($"The lane of {Unit} runs again, its history with it.\n", run.Output);
        Assert.Equal("No lane has stopped.\n", _kept.Run("resume").Output);
        using var whole = new KeptFleet();
        whole.Serve(Messages());
        Assert.Equal((0, whole.Run("digest").Output), (_kept.Run("digest").ExitCode, _kept.Run("digest").Output));
    }

    [Fact]
    public void One_that_goes_on_is_well_though_another_stands()
    {
        _kept.Serve(new ShardOptions { BeforeStep = _ => throw new InvalidOperationException(Fault) }, [.. Messages(), .. KeptFleet.Journey()]);
        Assert.Equal(2, _kept.Run("resume").Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal(0, _kept.Run("resume", "example/RT-01").ExitCode);
        Assert.StartsWith($"{Unit}: ", _kept.Run("resume").Output, StringComparison.Ordinal);
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

    private static ShardOptions Broken => Breaking(0);

    private static ShardOptions Breaking(int steps) => new() { BeforeStep = unit => { if ($"{unit.Fleet}/{unit.Id}" == Unit && steps-- <= 0) throw new InvalidOperationException(Fault); } };

    /// <summary>Its lane broke at the first step.</summary>
    private void Break() => _kept.Serve(Broken, Messages());

    private static RecordedMessage[] Messages() => [Coupling(), .. Frames(0, 700)];

    private static RecordedMessage Coupling() => Message("coupling", 0, "\"trailers\":[\"ST-06\"]");

    private static IEnumerable<RecordedMessage> Frames(int from, int to) =>
        Enumerable.Range(from, to - from).Select(i => Message("frame", i, $"\"kpa\":{{\"drive\":{500 + i % 3}}},\"lat\":46,\"lon\":15,\"speed_mps\":20"));

    private static RecordedMessage Message(string stream, int second, string fields)
    {
        var at = Begin + 1000L * second;
        return new($"axles/v1/example/TR-04/{stream}", Encoding.UTF8.GetBytes($$"""{"samples":[{"t":{{at}},{{fields}}}]}"""), new Moment(at + 500));
    }
}

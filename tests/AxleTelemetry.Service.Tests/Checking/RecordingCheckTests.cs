using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Service.Tests.Checking;

public sealed class RecordingCheckTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("recording");

    public void Dispose() => _folder.Delete(recursive: true);

    private string Save(params string[] lines) => Save("day.ndjson", string.Join('\n', lines) + "\n");

    private string Save(string name, string text)
    {
        var path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }

    private static string Line(string vehicle, string stream, string samples) =>
        $$$"""{"topic":"axles/v1/f/{{{vehicle}}}/{{{stream}}}","received":"2026-03-02T06:00:10Z","payload":{"samples":[{{{samples}}}]}}""";

    private static string Pressure(string values) => $"{{\"t\":1772431200000,\"kpa\":{{{values}}}}}";

    [Fact]
    public void A_good_recording_is_counted()
    {
        var run = Invocation.Of("check", Save(Line("RT-01", "pressure", Pressure("\"drive\":300")), "", Line("TR-04", "pressure", Pressure("\"drive\":310"))), ExampleFiles.Rigid, ExampleFiles.Tractor);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("day.ndjson: recording 2 messages of RT-01, TR-04, 2 samples, good", run.Output);
    }

    [Fact]
    public void A_line_that_cannot_be_read_is_told_with_its_number_and_the_rest_is_read()
    {
        var run = Invocation.Of("check", Save(Line("RT-01", "pressure", Pressure("\"drive\":300")), "rubbish", "{\"topic\":\"x\"}"), ExampleFiles.Rigid);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("recording 1 message of RT-01, 1 sample, 2 errors", run.Output);
        Assert.Contains("  error at line (line 2)", run.Output);
        Assert.Contains("  error at payload (line 3)", run.Output);
    }

    [Fact]
    public void What_is_refused_is_told_once_per_vehicle_and_reason()
    {
        var run = Invocation.Of("check", ExampleFiles.Rigid, Save(
            Line("RT-01", "pressure", Pressure("\"drive\":300,\"tga\":200")),
            Line("RT-01", "pressure", Pressure("\"tga\":201,\"tag\":\"x\"")),
            Line("RT-01", "pressures", Pressure("\"drive\":300"))));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("  error at samples[0].kpa (line 1)\n    found: unknown sensor, 2 times from RT-01: first tga\n    Right would be: one of drive, tag.", run.Output.ReplaceLineEndings("\n"));
        Assert.Contains("  error at samples[0].kpa.tag (line 2)\n    found: wrong type, once from RT-01: x", run.Output.ReplaceLineEndings("\n"));
        Assert.Contains("  error at topic (line 3)\n    found: unknown stream, once: pressures", run.Output.ReplaceLineEndings("\n"));
        Assert.Contains("3 errors", run.Output);
    }

    [Fact]
    public void Without_its_vehicle_file_only_the_names_go_unchecked()
    {
        var run = Invocation.Of("check", Save(
            Line("RT-01", "pressure", Pressure("\"nobody\":300")),
            Line("RT-01", "coupling", """{"t":1772431200000,"trailers":["ST-99"]}"""),
            Line("RT-01", "pressure", """{"t":"soon","kpa":{}}""")));
        Assert.Equal(2, run.ExitCode);
        Assert.DoesNotContain("unknown sensor", run.Output);
        Assert.Contains("found: RT-01, ST-99, not described by the files given", run.Output);
        Assert.Contains("found: bad time, once from RT-01", run.Output);
        Assert.Contains("1 error, 1 warning", run.Output);
    }

    [Fact]
    public void A_time_is_held_against_the_time_of_receipt_only_where_there_is_one()
    {
        static string At(string received) => $$$"""{"topic":"axles/v1/f/RT-01/pressure",{{{received}}}"payload":{"samples":[{"t":"2026-03-02T08:00:00Z","kpa":{"drive":300}}]}}""";
        Assert.Equal(0, Invocation.Of("check", ExampleFiles.Rigid, Save(At(""))).ExitCode);
        Assert.Contains("time ahead, once", Invocation.Of("check", ExampleFiles.Rigid, Save(At("\"received\":\"2026-03-02T06:00:00Z\","))).Output);
    }

    [Fact]
    public void However_bad_it_is_the_report_stays_short()
    {
        var run = Invocation.Of("check", Save([.. Enumerable.Repeat("rubbish", 5000)]));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("found: 4980 more such lines", run.Output);
        Assert.InRange(run.Output.Length, 100, 5000);
    }

    [Fact]
    public void A_recording_may_be_larger_than_other_files_and_an_empty_one_is_odd()
    {
        var line = Line("RT-01", "pressure", Pressure("\"drive\":300"));
        var many = 9 * 1024 * 1024 / line.Length;
        var run = Invocation.Of("check", ExampleFiles.Rigid, Save([.. Enumerable.Repeat(line, many)]), Save("empty.ndjson", ""), Save("long.json", "{ \"rules\": [] }" + new string(' ', 9 * 1024 * 1024)));
        Assert.Contains($"recording {many} messages of RT-01, {many} samples, good", run.Output);
        Assert.Contains("found: no message", run.Output);
        Assert.Contains("A file of this kind has at most", run.Output);
        Assert.True(line.Length < RecordingReader.MaxLineBytes);
    }
}

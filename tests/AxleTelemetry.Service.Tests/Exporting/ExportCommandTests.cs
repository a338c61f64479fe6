using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace AxleTelemetry.Service.Tests.Exporting;

public sealed partial class ExportCommandTests : IDisposable
{
    private readonly KeptFleet _kept = new("example", "other");

    public void Dispose() => _kept.Dispose();

    [Fact]
    public void The_register_comes_as_a_table_with_units_in_its_names_and_sentences_quoted()
    {
        _kept.Serve(KeptFleet.Journey());
        var run = _kept.Run("export");
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        var rows = CsvTable.Read(run.Output);
        Assert.Equal(9, rows.Count);
        Assert.Equal(rows.Select(r => r["since"]).Order(StringComparer.Ordinal), rows.Select(r => r["since"]));
        var over = rows.First(r => r["kind"] == "overload" && r["about"] == "axle 2 (drive) over its limit");
        Assert.Equal(("example", "RT-01", "2026-03-02T06:41:37.000Z", "2026-03-02T07:00:14.000Z", "surely"), (over["fleet"], over["vehicle"], over["since"], over["closed_at"], over["level_reached"]));
        Assert.Equal(("11500", "law", "Council Directive 96/53/EC, Annex I, 3.4", "2019-08-14"), (over["limit_kg"], over["limit_standing"], over["limit_source"], over["limit_edition"]));
        Assert.InRange(Number(over["peak_excess_kg"]), Number(over["peak_excess_low_kg"]), Number(over["peak_excess_high_kg"]));
        Assert.InRange(Number(over["latitude_deg"]), 46, 47);
        Assert.Contains(',', over["lifts"] + over["sentence"]);
        Assert.Equal("", rows.First(r => r["kind"] == "lowered_for_nothing")["limit_kg"]);
        // A number without its unit in the name is one that has none.
        var numbers = rows.SelectMany(r => r).Where(f => Plain().IsMatch(f.Value)).Select(f => f.Key).Distinct();
        Assert.All(numbers, name => Assert.True(name.EndsWith("_kg", StringComparison.Ordinal) || name.EndsWith("_deg", StringComparison.Ordinal) || name == "measured", name));
    }

    [Fact]
    public void As_JSON_it_is_one_object_a_line_and_says_the_same()
    {
        _kept.Serve(KeptFleet.Journey());
        var rows = CsvTable.Read(_kept.Run("export").Output);
        JsonElement[] lines = [.. _kept.Run("export", "--format", "json").Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)];
        Assert.Equal(rows.Select(r => r["sentence"]), lines.Select(l => l.GetProperty("sentence").GetString()));
        Assert.Equal(rows.Select(r => r["since"]), lines.Select(l => l.GetProperty("since").GetString()));
        var over = lines.First(l => l.GetProperty("kind").GetString() == "overload");
        Assert.Equal(11_500, over.GetProperty("limit").GetProperty("limit_kg").GetDouble());
    }

    [Theory]
    [InlineData(2, "--to", "2026-03-02T06:41:37Z", "--from", "2026-03-02T06:00:00Z", "2")]
    [InlineData(2, "--from", "2026-03-02T07:00:15Z", "--to", "2026-03-03", "2")]
    [InlineData(2, "--from", "2026-03-03", "--to", "2026-03-04", "0")]
    [InlineData(2, "--fleet", "example", "--vehicle", "example/RT-01", "9")]
    [InlineData(1, "--vehicle", "example/TR-04", "0")]
    [InlineData(1, "--fleet", "other", "0")]
    public void It_can_be_asked_for_a_span_a_fleet_or_a_vehicle(int options, params string[] asked)
    {
        _kept.Serve(KeptFleet.Journey());
        var run = _kept.Run(["export", .. asked[..(2 * options)]]);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(int.Parse(asked[^1], CultureInfo.InvariantCulture), CsvTable.Read(run.Output).Count);
    }

    [Fact]
    public void Nothing_found_is_a_table_with_its_header_and_no_JSON_at_all()
    {
        _kept.Serve(KeptFleet.Journey()[..2]);
        var header = Assert.Single(CsvTable.Records(_kept.Run("export").Output));
        Assert.Equal(("fleet", "sentence"), (header[0], header[^1]));
        Assert.Equal((0, ""), (_kept.Run("export", "--format", "json").ExitCode, _kept.Run("export", "--format", "json").Output));
        _kept.Serve(KeptFleet.Journey());
        Assert.Equal(header, CsvTable.Records(_kept.Run("export").Output)[0]);
    }

    [Fact]
    public void Beside_a_service_that_holds_the_journal_it_works_and_writes_nothing()
    {
        var (run, store) = _kept.Open();
        using (store)
        {
            _kept.Take(run, KeptFleet.Journey());
            run.End();
            var before = _kept.Files();
            var export = _kept.Run("export");
            Assert.Equal((0, 9), (export.ExitCode, CsvTable.Read(export.Output).Count));
            Assert.Equal(before, _kept.Files());
            var digest = _kept.Run("digest");
            Assert.Equal((0, ""), (digest.ExitCode, digest.Errors));
            using var reader = store.Journal.Reader();
            Assert.Equal($"main {reader.Digest()}", digest.Output.TrimEnd());
            Assert.Equal(before, _kept.Files());
        }
    }

    [Theory]
    [InlineData("export")]
    [InlineData("digest")]
    public void Without_a_journal_it_says_so_and_makes_none(string command)
    {
        var before = _kept.Files();
        var run = _kept.Run(command);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Equal($"Shard 'main' has no journal yet at {_kept.Journal}. 'axletelemetry serve' makes it.", run.Errors.TrimEnd());
        Assert.Equal(before, _kept.Files());
    }

    [Theory]
    [InlineData("export", 0.0)]
    [InlineData("export", 0.1)]
    [InlineData("export", 0.5)]
    [InlineData("digest", 0.0)]
    [InlineData("digest", 0.1)]
    [InlineData("digest", 0.5)]
    public void Of_a_damaged_journal_it_says_so_and_leaves_it_as_it_is(string command, double from)
    {
        _kept.Serve(KeptFleet.Journey());
        var bytes = File.ReadAllBytes(_kept.Journal);
        new Random(5).NextBytes(bytes.AsSpan((int)(from * bytes.Length), (int)(0.4 * bytes.Length)));
        File.WriteAllBytes(_kept.Journal, bytes);
        var run = _kept.Run(command);
        Assert.Equal(2, run.ExitCode);
        Assert.Matches($"^The journal (of shard 'main' in )?{Regex.Escape(_kept.Data)}.* is damaged: ", run.Errors);
        Assert.Single(run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(bytes, File.ReadAllBytes(_kept.Journal));
    }

    [Fact]
    public void Everything_that_is_wrong_is_said_at_once()
    {
        var run = _kept.Run("export", "--format", "xml", "--from", "yesterday", "--vehicle", "RT-01", "--fleet", "nobody");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        foreach (var option in (string[])["--format: found 'xml'", "--from: found 'yesterday'", "--vehicle: found 'RT-01'", "--fleet: found 'nobody'"])
            Assert.Contains(option, run.Errors, StringComparison.Ordinal);
        Assert.Contains("Right is a time before --to.", _kept.Run("export", "--from", "2026-03-03", "--to", "2026-03-02").Errors, StringComparison.Ordinal);
        Assert.Contains("--vehicle: found 'other/RT-01'", _kept.Run("export", "--fleet", "example", "--vehicle", "other/RT-01").Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("export")]
    [InlineData("digest")]
    [InlineData("resume")]
    public void Settings_that_do_not_load_are_told(string command)
    {
        File.WriteAllText(_kept.Settings, "{");
        var run = _kept.Run(command);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.StartsWith(_kept.Settings, run.Errors, StringComparison.Ordinal);
        File.Delete(_kept.Settings);
        Assert.Contains("There is no such file.", _kept.Run(command).Errors, StringComparison.Ordinal);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^-?\d+(\.\d+)?$")]
    private static partial Regex Plain();
}

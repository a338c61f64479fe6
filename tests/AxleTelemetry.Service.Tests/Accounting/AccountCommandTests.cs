using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Accounting;
using AxleTelemetry.Service.Exporting;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Tests.Exporting;
using AxleTelemetry.Storage.Reading;

namespace AxleTelemetry.Service.Tests.Accounting;

/// <summary>The shipped journey kept by a service, and its account.</summary>
public sealed class AccountCommandTests : IDisposable
{
    private readonly KeptFleet _kept = new("example", "other");

    public void Dispose() => _kept.Dispose();

    [Fact]
    public void It_says_what_was_driven_saved_and_wasted_in_tables()
    {
        _kept.Serve(KeptFleet.Journey());
        var run = _kept.Run("account");
        Assert.Equal((0, ""), (run.ExitCode, run.Errors));
        Assert.Contains("example/RT-01 tag", run.Output);
        Assert.Contains("too little was driven to say whether the lift pays", run.Output);
        Assert.Contains("no lift changes them", run.Output);
    }

    [Fact]
    public void As_JSON_it_holds_sums_intervals_and_assumptions()
    {
        _kept.Serve(KeptFleet.Journey());
        var root = JsonDocument.Parse(_kept.Run("account", "--format", "json").Output).RootElement;
        var unit = Assert.Single(root.GetProperty("units").EnumerateArray().ToArray());
        var km = unit.GetProperty("km").GetDouble();
        Assert.True(km > 10);
        foreach (var axle in root.GetProperty("axles").EnumerateArray())
            Assert.Equal(km, axle.GetProperty("on_road_km").GetDouble() + axle.GetProperty("raised_km").GetDouble(), 2);
        var litres = unit.GetProperty("driven").GetProperty("all").GetProperty("fuel_l");
        Assert.InRange(litres.GetProperty("mean").GetDouble(), litres.GetProperty("low").GetDouble(), litres.GetProperty("high").GetDouble());
        Assert.Contains(root.GetProperty("assumptions").EnumerateArray(), a => a.GetProperty("name").GetString() == "hub_drag" && a.GetProperty("source").GetString()!.Length > 0);
    }

    [Fact]
    public void Tyres_that_were_recorded_have_their_part_of_the_axles_they_were_on()
    {
        _kept.Serve(KeptFleet.Journey());
        var root = JsonDocument.Parse(_kept.Run("account", "--format", "json", "--tyres", ExampleFiles.Of("tyres-rt-01.csv")).Output).RootElement;
        var steer = root.GetProperty("axles").EnumerateArray().Single(a => a.GetProperty("axle").GetString() == "steer");
        var tyre = root.GetProperty("tyres").EnumerateArray().Single(t => t.GetProperty("tyre").GetString() == "T-1001").GetProperty("whole");
        Assert.Equal(steer.GetProperty("on_road_km").GetDouble(), tyre.GetProperty("km").GetDouble(), 3);
        Assert.Equal(steer.GetProperty("load_tkm").GetDouble() / 2, tyre.GetProperty("load_tkm").GetDouble(), 2);
        Assert.Equal(0, root.GetProperty("axle_days_without_tyres").GetInt32());
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(1, false)]
    public void More_than_was_to_be_added_is_said(int most, bool more)
    {
        _kept.Serve(KeptFleet.Journey());
        using var reader = Assert.IsType<ReaderOpening.Opened>(JournalReader.Open(_kept.Data, "main")).Reader;
        var log = EpisodeExport.Configurations(reader);
        var found = new AccountReading((new Moment(0), new Moment(long.MaxValue / 4)), null, null) { Most = most }
            .Read(reader.HistoryAcross, members => CombinationShelf.Make(members, log), AccountFound.Nothing);
        Assert.Equal((most, more), (found.Periods, found.MoreThanMost));
    }

    [Theory]
    [InlineData("--format", "xml", "--format: found 'xml'")]
    [InlineData("--from", "3/4/2026", "--from: found '3/4/2026'")]
    [InlineData("--fleet", "nowhere", "--fleet: found 'nowhere'")]
    [InlineData("--km-per-year", "10", "--km-per-year: found '10'")]
    [InlineData("--tyres", "nowhere.csv", "nowhere.csv")]
    public void What_is_wrong_is_told_with_its_option(string option, string value, string told)
    {
        var run = _kept.Run("account", option, value);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(told, run.Errors);
    }
}

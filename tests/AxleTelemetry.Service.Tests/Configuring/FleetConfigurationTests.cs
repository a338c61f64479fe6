using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;
using CsCheck;

namespace AxleTelemetry.Service.Tests.Configuring;

public sealed class FleetConfigurationTests : IDisposable
{
    private static readonly CircuitId Drive = new("TR-04", "drive");

    private readonly ServiceFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Its_bytes_alone_give_it_again_with_the_same_version_when_the_files_are_gone()
    {
        _folder.Write("tickets.csv", ServiceFolder.Tickets.Replace(",,\n", ",,\"dry, \u00fcber\"\n", StringComparison.Ordinal));
        var before = _folder.Loaded().Fleets;
        _folder.Dispose();
        var after = Built(before.ToBytes());
        Assert.Equal(before.Version, after.Version);
        Assert.Equal(before.ToBytes(), after.ToBytes());
        Assert.Equal(before.Find("north")!.History(Drive).Versions.Select(v => v.Fit), after.Find("north")!.History(Drive).Versions.Select(v => v.Fit));
        Directory.CreateDirectory(_folder.PathOf(""));
    }

    [Fact]
    public void The_version_follows_every_byte_and_nothing_else()
    {
        var first = _folder.Loaded().Fleets.Version;
        Assert.Matches("^[0-9a-f]{12}$", first);
        using var elsewhere = new ServiceFolder();
        Assert.Equal(first, elsewhere.Loaded().Fleets.Version);
        _folder.Settings("\"bounds\": { \"raw_days\": 5 }");
        Assert.Equal(first, _folder.Loaded().Fleets.Version);
        _folder.Settings("\"allowed_clock_skew_s\": 61");
        Assert.NotEqual(first, _folder.Loaded().Fleets.Version);
        _folder.Settings("");
        _folder.Replace("north/tractor.json", "{", "{ ");
        Assert.NotEqual(first, _folder.Loaded().Fleets.Version);
    }

    [Fact]
    public void A_shard_has_the_configuration_of_its_own_fleets_only()
    {
        _folder.Settings("\"shards\": { \"a\": [\"north\"], \"b\": [\"south\"] }", "\"north\": { \"vehicles\": \"north\" }, \"south\": { \"vehicles\": \"north\" }");
        var loaded = _folder.Loaded();
        var one = loaded.Of(loaded.Settings.Shards[0]);
        Assert.Equal(["north"], one.Fleets.Select(f => f.Name));
        Assert.NotEqual(loaded.Fleets.Version, one.Version);
        Assert.Equal(one.Version, Built(one.ToBytes()).Version);
    }

    [Fact]
    public void Each_weighing_starts_a_version_and_a_later_ticket_changes_nothing_before_it()
    {
        var history = _folder.Loaded().Fleets.Find("north")!.History(Drive);
        Assert.Equal(["2026-03-02/1", "2026-04-03/2"], history.Versions.Select(v => v.Id));
        Assert.Null(history.At(At("2026-03-02T05:59:59Z")));
        Assert.Equal("2026-03-02/1", history.At(At("2026-03-02T06:00:00Z"))!.Id);
        // Written first though weighed last: order in the file does not count.
        _folder.Write("tickets.csv", ServiceFolder.Header + "W3,2026-05-01T06:00:00Z,TR-04,drive,410,7400,axle,,\n" + ServiceFolder.Tickets[ServiceFolder.Header.Length..]);
        var longer = _folder.Loaded().Fleets.Find("north")!.History(Drive);
        Assert.Equal(history.Versions.Select(v => v.Fit), longer.Versions.Take(2).Select(v => v.Fit));
        Assert.Equal("2026-05-01/3", longer.Versions[2].Id);
    }

    [Fact]
    public void Within_a_period_the_calibrations_stay_and_at_its_end_they_change()
    {
        var fleet = _folder.Loaded().Fleets.Find("north")!;
        var tractor = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([.. fleet.Vehicles.Select(v => v.Description)])).Combination;
        var periods = new[] { "2026-02-10T00:00:00Z", "2026-03-01T00:00:00Z", "2026-03-02T06:00:00Z", "2026-04-02T00:00:00Z", "2026-04-30T00:00:00Z" }
            .Select(t => fleet.PeriodAt(tractor, At(t))).ToArray();
        Assert.Equal(
            ["2026-02-01 2026-03-01", "2026-03-01 2026-03-02", "2026-03-02 2026-04-01", "2026-04-01 2026-04-03", "2026-04-03 2026-05-01"],
            periods.Select(p => $"{p.From.ToString()[..10]} {p.Until.ToString()[..10]}"));
        Assert.All(periods, p => Assert.True(p.Contains(p.From) && !p.Contains(p.Until)));
        Assert.NotNull(fleet.Setup(tractor, periods[2].From).Estimator);
    }

    [Fact]
    public void Bytes_that_are_damaged_are_refused_with_a_reason_and_never_throw()
    {
        var good = _folder.Loaded().Fleets.ToBytes();
        string[] wrong = ["", "null", "{}", "[1]", "{\"format\":2}", Encoding.UTF8.GetString(good).Replace("\"format\":1", "\"format\":9", StringComparison.Ordinal), "{\"format\":1,\"allowed_clock_skew_ms\":1,\"fleets\":null}"];
        Assert.All(wrong, text => Assert.NotEmpty(Assert.IsType<ConfigurationResult.Refused>(FleetConfiguration.Parse(Encoding.UTF8.GetBytes(text))).Errors));
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte).Sample(change =>
        {
            var bytes = (byte[])good.Clone();
            bytes[change.Item1] = change.Item2;
            Assert.True(FleetConfiguration.Parse(bytes) is ConfigurationResult.Refused { Errors.Length: > 0 } or ConfigurationResult.Built);
        }, iter: 200);
    }

    [Fact]
    public void A_change_is_told_in_words()
    {
        var before = _folder.Loaded().Fleets;
        Assert.True(ConfigurationChange.Between(before, before).IsNone);
        _folder.Replace("north/tractor.json", "{", "{ // a remark\n");
        Assert.Equal(["Only comments, layout or names of files changed."], ConfigurationChange.Between(before, _folder.Loaded().Fleets).Sentences);

        File.Delete(_folder.PathOf("north/trailer.json"));
        File.Copy(ExampleFiles.Rigid, _folder.PathOf("north/rigid.json"));
        _folder.Replace("north/tractor.json", "\"capacity_kg\": 12600", "\"capacity_kg\": 12700");
        _folder.Write("tickets.csv", ServiceFolder.Tickets + "W3,2026-05-01T06:00:00Z,TR-04,drive,410,7400,axle,,\n");
        _folder.Write("limits.json", Encoding.UTF8.GetString(Messages.Limits.LimitSetFile.ShippedText("eu-96-53-ec")).Replace("\"eu-96-53-ec\"", "\"own\"", StringComparison.Ordinal));
        _folder.Settings("\"allowed_clock_skew_s\": 5", "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\"], \"limits\": \"limits.json\", \"trip\": \"national\" }");
        var change = ConfigurationChange.Between(before, _folder.Loaded().Fleets);
        Assert.Equal(
            [
                "Clocks may run ahead by 5 s instead of 60 s.", "Vehicle north/RT-01 added.", "Vehicle north/ST-06 removed.", "Vehicle north/TR-04 described anew.",
                "Calibration 2026-05-01/3 of north/TR-04/drive added, valid from 2026-05-01T06:00:00.000Z.",
            ],
            change.Sentences.Take(5));
        Assert.StartsWith("Limits of fleet north: own of ", change.Sentences.ElementAt(5), StringComparison.Ordinal);
        Assert.Equal("Trips of fleet north are national instead of unknown where nothing else says so.", change.Sentences.Last());

        _folder.Replace("tickets.csv", "520,9000", "520,9100");
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\"] }, \"south\": { \"vehicles\": \"north\" }");
        var second = string.Join(' ', ConfigurationChange.Between(before, _folder.Loaded().Fleets).Sentences);
        Assert.Contains("Calibration 2026-03-02/1 of north/TR-04/drive corrected", second, StringComparison.Ordinal);
        Assert.Contains("Fleet south added, vehicles: 2.", second, StringComparison.Ordinal);
        Assert.Contains("Fleet south removed.", string.Join(' ', ConfigurationChange.Between(_folder.Loaded().Fleets, before).Sentences), StringComparison.Ordinal);
    }

    private static FleetConfiguration Built(ReadOnlySpan<byte> bytes) => Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Parse(bytes)).Configuration;

    private static Moment At(string text) => new(DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture).ToUnixTimeMilliseconds());
}

using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Configuring;

/// <summary>Permits from the settings to what is found and said.</summary>
public sealed class PermitTests : IDisposable
{
    private const string Permit = """
        { "permits": [ { "id": "P-1", "authority": "an authority", "vehicles": ["TR-04", "ST-06"], "countries": ["AT"], "from": "2026-01-01", "until": "2026-12-31",
          "limits": [ { "axles": ["TR-04/drive"], "most_kg": 13000 }, { "combination": true, "most_kg": 44000 } ] } ] }
        """;

    private readonly ServiceFolder _folder = new();

    public PermitTests()
    {
        _folder.Write("permits.json", Permit);
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\"], \"permits\": [\"permits.json\"] }");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void They_are_read_watched_and_kept_in_the_configurations_bytes()
    {
        var loaded = _folder.Loaded();
        Assert.Equal("P-1", Assert.Single(loaded.Fleets.Find("north")!.Permits).Id);
        Assert.Contains(loaded.Watched, w => w.EndsWith("permits.json", StringComparison.Ordinal));
        var again = Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Parse(loaded.Fleets.ToBytes())).Configuration;
        Assert.True(again.Find("north")!.Permits[0].IsSame(loaded.Fleets.Find("north")!.Permits[0]));
    }

    [Fact]
    public void Configurations_without_any_keep_the_bytes_they_had()
    {
        _folder.Settings("");
        Assert.DoesNotContain("permits", System.Text.Encoding.UTF8.GetString(_folder.Loaded().Fleets.ToBytes()), StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_is_told_by_name_and_a_comment_is_none()
    {
        var before = _folder.Loaded().Fleets;
        _folder.Replace("permits.json", "13000", "12500");
        Assert.Equal(["Permit P-1 of fleet north changed."], ConfigurationChange.Between(before, _folder.Loaded().Fleets).Sentences);
        _folder.Replace("permits.json", "12500", "13000 /* as granted */");
        Assert.Equal(["Only comments, layout or names of files changed."], ConfigurationChange.Between(before, _folder.Loaded().Fleets).Sentences);
        _folder.Settings("");
        Assert.Equal(["Permit P-1 of fleet north removed."], ConfigurationChange.Between(before, _folder.Loaded().Fleets).Sentences);
        Assert.Equal(["Permit P-1 of fleet north added."], ConfigurationChange.Between(_folder.Loaded().Fleets, before).Sentences);
    }

    [Theory]
    [InlineData("\"ST-06\"]", "\"ST-66\"]", "No vehicle has that id. There are ST-06, TR-04.")]
    [InlineData("TR-04/drive", "TR-04/tag", "TR-04 has no such axle. Its axles are steer, drive.")]
    [InlineData("TR-04/drive", "XX-01/drive", "Right is an axle of a vehicle of this permit: TR-04, ST-06.")]
    [InlineData("\"combination\": true", "\"gross\": \"XX-01\"", "Right is a vehicle of this permit: TR-04, ST-06.")]
    public void What_names_no_vehicle_or_axle_of_the_fleet_is_told(string good, string bad, string right)
    {
        _folder.Replace("permits.json", good, bad);
        Assert.Contains(right, Assert.Single(_folder.Errors()), StringComparison.Ordinal);
        var check = Invocation.Of("check", _folder.PathOf("permits.json"), _folder.PathOf("north/tractor.json"), _folder.PathOf("north/trailer.json"));
        Assert.Equal(2, check.ExitCode);
        Assert.Contains(right, check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void More_than_can_be_followed_are_refused_before_a_lane_meets_them()
    {
        var one = Permit[(Permit.IndexOf('[', StringComparison.Ordinal) + 1)..Permit.LastIndexOf(']')];
        _folder.Write("permits.json", $$"""{ "permits": [ {{string.Join(',', Enumerable.Range(1, 17).Select(i => one.Replace("P-1", $"P-{i}", StringComparison.Ordinal)))}} ] }""");
        Assert.Contains("A vehicle has at most 16", _folder.Errors()[0], StringComparison.Ordinal);
        _folder.Write("permits.json", $$"""{ "permits": [ {{string.Join(',', Enumerable.Range(1, 5).Select(i => one.Replace("P-1", $"P-{i}", StringComparison.Ordinal).Replace("\"limits\"", "\"most_speed_kmh\": 60, \"limits\"", StringComparison.Ordinal)))}} ] }""");
        Assert.Contains("5 permits with a speed hold in AT on 2026-01-01; 4 are possible.", _folder.Errors()[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Loads_and_plan_count_them_on_their_days_and_say_so()
    {
        string[] vehicles = [ExampleFiles.Tractor, ExampleFiles.SemiTrailer];
        var without = Invocation.Of(["loads", .. vehicles, "--payload", "26000", "--trip", "international", "--date", "2026-06-01"]);
        Assert.Matches("Gross combination mass .* 40.0 .* surely over  Annex I, 2.2.2", without.Output);
        var with = Invocation.Of(["loads", .. vehicles, "--payload", "26000", "--trip", "international", "--date", "2026-06-01", "--permits", _folder.PathOf("permits.json")]);
        Assert.Contains("permit P-1 (AT, until 2026-12-31)", with.Output, StringComparison.Ordinal);
        Assert.Matches("Gross combination mass .* 44.0 .* ok .* Permit P-1 of an authority", with.Output);
        var over = Invocation.Of(["loads", .. vehicles, "--payload", "26000", "--date", "2027-06-01", "--permits", _folder.PathOf("permits.json")]);
        Assert.Contains("None of them is for these vehicles and holds on 2027-06-01.", over.Output, StringComparison.Ordinal);
        var plan = Invocation.Of(["plan", .. vehicles, "--date", "2026-06-01", "--permits", _folder.PathOf("permits.json"), "--format", "text"]);
        Assert.Equal(0, plan.ExitCode);
        Assert.Contains("permit P-1", plan.Output, StringComparison.Ordinal);
    }

    /// <summary>The recorded example journey: its driving axle is surely over the 11.5 t of the law, and over its maker's rating of the same mass.</summary>
    [Theory]
    [InlineData("SI", false)]
    [InlineData("SE", true)]
    public void A_replay_finds_what_a_permit_leaves_over(string country, bool law)
    {
        _folder.Write("permits.json", $$"""
            { "permits": [ { "id": "P-2", "authority": "an authority", "vehicles": ["RT-01"], "countries": ["{{country}}"], "from": "2026-03-01", "until": "2026-03-31",
              "limits": [ { "axles": ["RT-01/drive"], "most_kg": 18000 } ] } ] }
            """);
        var run = Invocation.Of("replay", ExampleFiles.Of("journey.ndjson"), "--vehicles", ExampleFiles.Rigid, "--trip", "national", "--permits", _folder.PathOf("permits.json"));
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(law, run.Output.Contains("over 11.5 t at 2026-03-02T06:52:01.000Z (National limits of Slovenia, drive axle)", StringComparison.Ordinal));
        Assert.Contains("(Papers of RT-01, axle rating)", run.Output, StringComparison.Ordinal);
    }
}

using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Tests.Configuring;

public sealed class ConfigurationWatchTests : IDisposable
{
    private readonly ServiceFolder _folder = new();
    private readonly HandClock _clock = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_change_is_taken_once_when_files_have_settled()
    {
        var watch = Watch();
        _folder.Replace("north/tractor.json", "\"capacity_kg\": 12600", "\"capacity_kg\": 12700");
        Assert.IsType<WatchResult.Unchanged>(watch.Poll());
        _clock.Advance(ConfigurationWatch.Settle);
        var changed = Assert.IsType<WatchResult.Changed>(watch.Poll());
        Assert.Equal(["Vehicle north/TR-04 described anew."], changed.Change.Sentences);
        Assert.Empty(changed.AfterRestart);
        Assert.Same(changed.Next, watch.Current);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
    }

    [Fact]
    public void While_files_still_change_none_is_read()
    {
        var watch = Watch();
        for (var i = 0; i < 3; i++)
        {
            _folder.Write("tickets.csv", ServiceFolder.Tickets[..^(3 - i)]);
            Assert.IsType<WatchResult.Unchanged>(watch.Poll());
            _clock.Advance(ConfigurationWatch.Settle / 2);
        }

        _folder.Write("tickets.csv", ServiceFolder.Tickets);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        Assert.Empty(watch.Errors);
    }

    [Fact]
    public void Errors_are_told_once_and_the_old_stays_in_force_until_the_repair()
    {
        var watch = Watch();
        var old = watch.Current;
        _folder.Replace("north/tractor.json", "\"rating_kg\": 12000", "\"rating_kg\": 115000");
        Assert.Single(Assert.IsType<WatchResult.Refused>(Settled(watch)).Errors);
        Assert.Same(old, watch.Current);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        _clock.Advance(ConfigurationWatch.Again);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        Assert.Single(watch.Errors);
        _folder.Replace("north/tractor.json", "\"rating_kg\": 115000", "\"rating_kg\": 12000");
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        Assert.Empty(watch.Errors);
    }

    [Fact]
    public void A_fleet_whose_directory_comes_later_is_taken_then()
    {
        var watch = Watch();
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\"] }, \"south\": { \"vehicles\": \"south\" }");
        Assert.IsType<WatchResult.Refused>(Settled(watch));
        Directory.CreateDirectory(_folder.PathOf("south"));
        File.Copy(ExampleFiles.Rigid, _folder.PathOf("south/rigid.json"));
        var changed = Assert.IsType<WatchResult.Changed>(Settled(watch));
        Assert.Equal(["Fleet south added, vehicles: 1."], changed.Change.Sentences);
        Assert.Empty(changed.AfterRestart);
    }

    [Fact]
    public void A_file_that_changes_without_its_length_and_time_is_found_in_the_end()
    {
        var watch = Watch();
        var time = File.GetLastWriteTimeUtc(_folder.PathOf("tickets.csv"));
        _folder.Replace("tickets.csv", "520,9000", "520,9100");
        File.SetLastWriteTimeUtc(_folder.PathOf("tickets.csv"), time);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        _clock.Advance(ConfigurationWatch.Again);
        Assert.NotEmpty(Assert.IsType<WatchResult.Changed>(watch.Poll()).Change.Items);
    }

    [Fact]
    public void What_holds_only_after_a_restart_is_said()
    {
        var watch = Watch();
        _folder.Write("token", "0123456789abcdef");
        _folder.Settings("\"http\": { \"listen\": \"127.0.0.1:9090\", \"api_token_file\": \"token\" }, \"embedded_broker\": { \"listen\": \"127.0.0.1:1884\" }, \"bounds\": { \"raw_days\": 3 }, \"shards\": { \"other\": [\"north\"] }");
        var changed = Assert.IsType<WatchResult.Changed>(Settled(watch));
        Assert.Equal(["embedded_broker", "http", "secrets", "shards", "bounds"], changed.AfterRestart);
        Assert.True(changed.Change.IsNone);
        _folder.Write("token", "fedcba9876543210");
        Assert.Equal(["secrets"], Assert.IsType<WatchResult.Changed>(Settled(watch)).AfterRestart);
    }

    /// <summary>A watch that has looked at everything once.</summary>
    private ConfigurationWatch Watch()
    {
        var watch = new ConfigurationWatch(_folder.SettingsFile, _folder.Loaded(), _clock);
        Assert.IsType<WatchResult.Unchanged>(Settled(watch));
        return watch;
    }

    private WatchResult Settled(ConfigurationWatch watch)
    {
        Assert.IsType<WatchResult.Unchanged>(watch.Poll());
        _clock.Advance(ConfigurationWatch.Settle);
        return watch.Poll();
    }
}

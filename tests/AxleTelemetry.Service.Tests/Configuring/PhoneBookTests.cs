using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Tests.Configuring;

public sealed class PhoneBookTests : IDisposable
{
    private readonly ServiceFolder _folder = new();

    public PhoneBookTests()
    {
        _folder.Write("contacts.json", """{ "contacts": [ { "telephone": "+44 1632 960001", "whose": "driver", "language": "German", "vehicles": ["TR-04"] }, { "telephone": "+44 1632 960000", "whose": "depot", "language": "English" } ] }""");
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\", \"contacts\": \"contacts.json\" }");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_vehicle_has_its_own_contact_and_all_others_that_of_the_fleet()
    {
        var phones = _folder.Loaded().Phones;
        Assert.Equal("+44 1632 960001", phones.Of(new("north", "TR-04"))!.Telephone);
        Assert.Equal("depot", phones.Of(new("north", "ST-06"))!.Whose);
        Assert.Null(phones.Of(new("south", "TR-04")));
    }

    [Fact]
    public void Another_number_is_a_change_that_no_lane_meets_and_no_journal_keeps()
    {
        var before = _folder.Loaded();
        _folder.Replace("contacts.json", "960001", "960002");
        var after = _folder.Loaded();
        Assert.False(before.SameAs(after));
        Assert.Equal(before.Fleets.Version, after.Fleets.Version);
        Assert.DoesNotContain("960002", System.Text.Encoding.UTF8.GetString(after.Fleets.ToBytes()), StringComparison.Ordinal);
        Assert.Contains(after.Watched, w => w.EndsWith("contacts.json", StringComparison.Ordinal));
    }

    [Fact]
    public void A_running_service_takes_it_on()
    {
        var clock = new HandClock();
        var watch = new ConfigurationWatch(_folder.SettingsFile, _folder.Loaded(), clock);
        watch.Poll();
        _folder.Replace("contacts.json", "960001", "960002 ");
        watch.Poll();
        clock.Advance(ConfigurationWatch.Settle);
        var changed = Assert.IsType<WatchResult.Changed>(watch.Poll());
        Assert.Empty(changed.AfterRestart);
        Assert.Equal("+44 1632 960002 ", watch.Current.Phones.Of(new("north", "TR-04"))!.Telephone);
    }

    [Fact]
    public void A_mistake_is_told_with_its_place()
    {
        _folder.Replace("contacts.json", "+44 1632 960001", "ask me");
        Assert.Contains("$.contacts[0].telephone", Assert.Single(_folder.Errors()), StringComparison.Ordinal);
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Who is told of what.</summary>
public sealed class RoutingTests : IDisposable
{
    private readonly Premise _premise = new();

    public void Dispose() => _premise.Dispose();

    [Fact]
    public void Routes_choose_by_fleet_kind_priority_and_level_and_name_each_recipient_once()
    {
        var routing = Routing("""
            { "to": ["all"] }, { "to": ["all", "north"], "fleets": ["north"] }, { "to": ["sensors"], "kinds": ["sensor_drifts", "vehicle_silent"] },
            { "to": ["urgent"], "least_priority": "high" }, { "to": ["sure"], "least_level": "surely" }
            """);
        Assert.Equal(["all", "north", "urgent", "sure"], To(routing, Told.Change()));
        Assert.Equal(["all", "urgent", "sure"], To(routing, Told.Change(fleet: "south")));
        Assert.Equal(["all", "north"], To(routing, Told.Change() with { Priority = AlertPriority.Medium, Level = Level.Likely }));
        Assert.Equal(["all", "north", "sensors"], To(routing, Told.Change(kind: FindingKind.SensorDrifts) with { Priority = AlertPriority.Low, Level = Level.Near }));
        Assert.Equal(["all", "north", "sensors"], To(routing, Told.Change(kind: null) with { Priority = AlertPriority.Low, Level = Level.Near }));
    }

    [Fact]
    public void Whoever_was_told_hears_how_it_goes_on_though_it_is_less_grave_by_then()
    {
        var routing = Routing("""{ "to": ["urgent"], "least_priority": "high" }""");
        var fell = Told.Of(Told.Change(number: 2) with { Cause = new AlertCause.Fell(), Priority = AlertPriority.Medium, Rings = false });
        Assert.Empty(routing.Of(fell, []).Parcels);
        Assert.Equal(["urgent"], routing.Of(fell, ["urgent"]).Parcels.Select(p => p.Recipient));
    }

    [Fact]
    public void People_are_told_what_rings_and_programs_all_of_it()
    {
        var routing = Routing("""{ "to": ["all", "anna"] }""");
        Assert.Equal(["all", "anna"], To(routing, Told.Change()));
        Assert.Equal(["all"], To(routing, Told.Change() with { Rings = false }));
    }

    [Fact]
    public void What_came_of_it_is_entered_for_who_hears_first_of_it_or_is_called()
    {
        var routing = Routing("""{ "to": ["all", "anna"] }""");
        IEnumerable<(string, string?)> Entered(AlertChange change, params string[] followers) => routing.Of(Told.Of(change), [.. followers]).Parcels.Select(p => (p.Recipient, p.Channel));
        Assert.Equal([("all", "webhook"), ("anna", "mail")], Entered(Told.Change()));
        Assert.Equal([("all", "webhook"), ("anna", "mail")], Entered(Told.Change(), "all", "anna"));
        Assert.Equal([("all", null)], Entered(Told.Change() with { Rings = false }, "all"));
        Assert.Equal([("all", "webhook")], Entered(Told.Change() with { Rings = false }));
    }

    [Fact]
    public void Whom_it_reached_is_told_to_programs_but_to_the_one_it_reached_and_by_no_mail()
    {
        var routing = Routing("""{ "to": ["all", "north", "anna"] }""");
        var reached = Told.Change(number: 2) with { Rings = false, Cause = new AlertCause.Reached(new Contact.Reached("north", "webhook", Told.Since)) };
        var parcel = Assert.Single(routing.Of(Told.Of(reached), []).Parcels);
        Assert.Equal(("all", null), (parcel.Recipient, parcel.Channel));
        Assert.Equal(["all"], To(routing, reached with { Cause = new AlertCause.NotReached(new Contact.GivenUp("north", "webhook", Told.Since, "gone")) }));
    }

    [Fact]
    public void Who_is_told_that_nobody_acknowledges_is_told_what_holds_and_not_whom_it_reached()
    {
        using var book = new Book(_premise, """{ "to": ["anna"], "escalation": [{ "after_min": 10, "to": ["boss"] }] }""");
        book.Enter(Told.Change());
        book.Enter(Told.Change(number: 2) with { Rings = false, Cause = new AlertCause.Reached(new Contact.Reached("anna", "mail", Told.Since)) });
        Assert.True(book.Remind(Told.Since.Plus(60 + 600)));
        Assert.Equal("began", book.Of("boss").Cause);
    }

    [Fact]
    public void Ids_are_those_of_shard_alert_and_number_and_of_nothing_else()
    {
        var change = Told.Of(Told.Change());
        Assert.Equal(change.Message, Told.Of(Told.Change() with { At = Told.Since.Plus(999), Rings = false }).Message);
        string[] others = [Told.Of(Told.Change(number: 2)).Message, Told.Of(Told.Change(vehicle: "RT-02")).Message, ToldChange.Read("other", change.Bytes)!.Message, MessageId.OfReminder(change.Message, "0.0"), MessageId.OfDigest("anna", [change.Message])];
        Assert.Equal(6, others.Append(change.Message).Distinct().Count());
        Assert.All(others, o => Assert.Matches("^axle_[0-9a-f]{32}$", o));
    }

    [Fact]
    public void Who_does_not_acknowledge_in_time_brings_the_next_and_after_him_the_next_each_once_also_after_a_restart()
    {
        using var book = new Book(_premise, """{ "to": ["anna"], "escalation": [{ "after_min": 10, "to": ["boss"] }, { "after_min": 30, "to": ["boss", "all"] }] }""");
        book.Enter(Told.Change());
        Assert.Equal(["anna"], book.Waiting());
        Assert.False(book.Remind(Told.Since.Plus(60 + 599)));
        book.Reopen();
        Assert.True(book.Remind(Told.Since.Plus(60 + 600)));
        Assert.Equal(["anna", "boss"], book.Waiting());
        book.Reopen();
        Assert.False(book.Remind(Told.Since.Plus(60 + 1799)));
        // It rings once more, as the shard's own escalation does: the steps are those of the first ring.
        book.Enter(Told.Change(number: 2) with { Cause = new AlertCause.Escalated() });
        Assert.True(book.Remind(Told.Since.Plus(60 + 1800)));
        Assert.False(book.Remind(Told.Since.Plus(86_400)));
        Assert.Equal(["all", "anna", "anna", "boss", "boss", "boss"], book.Waiting());
        Assert.Equal((2, 1), (book.Tally("boss").Escalated, book.Tally("all").Escalated));
    }

    [Theory]
    [InlineData("acknowledged")]
    [InlineData("returned")]
    [InlineData("shelved")]
    [InlineData("closed")]
    public void Whoever_takes_notice_ends_it(string how)
    {
        using var book = new Book(_premise, """{ "to": ["anna"], "escalation": [{ "after_min": 10, "to": ["boss"] }] }""");
        book.Enter(Told.Change());
        var by = new Act("Ada", Told.Since.Plus(120));
        AlertState state = how switch
        {
            "acknowledged" => new AlertState.Acknowledged(by),
            "returned" => new AlertState.ReturnedUnacknowledged(by.At),
            "shelved" => new AlertState.Shelved(by, "known", by.At.Plus(3600), new AlertState.Unacknowledged()),
            _ => new AlertState.Normal(ClosedAs.Returned, by.At),
        };
        book.Enter(Told.Change(number: 2) with { State = state, Rings = false });
        Assert.False(book.Remind(Told.Since.Plus(86_400)));
        Assert.Equal(["anna"], book.Waiting());
        // When it rings anew, it begins anew.
        book.Enter(Told.Change(number: 3) with { At = Told.Since.Plus(7200) });
        Assert.True(book.Remind(Told.Since.Plus(7200 + 600)));
    }

    [Fact]
    public void Whoever_two_routes_lead_to_is_told_once_that_nobody_acknowledges()
    {
        using var book = new Book(_premise, """
            { "to": ["anna"], "escalation": [{ "after_min": 10, "to": ["boss"] }] },
            { "to": ["all"], "least_priority": "high", "escalation": [{ "after_min": 10, "to": ["boss", "sure"] }] }
            """);
        book.Enter(Told.Change() with { Priority = AlertPriority.Medium });
        // By now the other route leads on as well: whom it adds is told too.
        book.Enter(Told.Change(number: 2) with { Cause = new AlertCause.Rose() });
        Assert.True(book.Remind(Told.Since.Plus(60 + 600)));
        book.Reopen();
        Assert.False(book.Remind(Told.Since.Plus(86_400)));
        Assert.Equal(["boss", "sure"], book.Waiting().Where(w => w is "boss" or "sure"));
    }

    [Fact]
    public void What_is_put_back_by_hand_waits_for_notice_again()
    {
        using var book = new Book(_premise, """{ "to": ["anna"], "escalation": [{ "after_min": 10, "to": ["boss"] }] }""");
        book.Enter(Told.Change());
        var by = new Act("Ada", Told.Since.Plus(120));
        book.Enter(Told.Change(number: 2) with { State = new AlertState.Shelved(by, "known", by.At.Plus(3600), new AlertState.Unacknowledged()), Rings = false });
        book.Enter(Told.Change(number: 3) with { At = Told.Since.Plus(300), Rings = false, Cause = new AlertCause.Acted(new OperatorAction.Unshelve("Ada")) });
        Assert.False(book.Remind(Told.Since.Plus(300 + 599)));
        Assert.True(book.Remind(Told.Since.Plus(300 + 600)));
        Assert.Equal(["anna", "boss"], book.Waiting());
    }

    [Fact]
    public void A_change_that_is_read_twice_is_entered_once()
    {
        using var book = new Book(_premise, """{ "to": ["anna"] }""");
        book.Enter(Told.Change());
        book.Reopen();
        book.Enter(Told.Change());
        Assert.Equal(["anna"], book.Waiting());
    }

    private static IEnumerable<string> To(Routing routing, AlertChange change) => routing.Of(Told.Of(change), []).Parcels.Select(p => p.Recipient);

    private Routing Routing(string routes) => new(Settings(_premise, routes));

    private static DeliverySettings Settings(Premise premise, string routes)
    {
        var hook = """{ "webhook": { "url": "http://127.0.0.1:9/", "secret_file": "hook.secret" } }""";
        var names = string.Join(", ", new[] { "all", "north", "sensors", "urgent", "sure" }.Select(n => $"\"{n}\": {hook}"));
        return premise.Configuration($$"""
            { "mail": { "host": "127.0.0.1", "from": "axles@fleet.example" }, "recipients": { {{names}}, "anna": { "mail": "anna@fleet.example" }, "boss": { "mail": "boss@fleet.example" } }, "routes": [{{routes}}] }
            """).Settings.Delivery!;
    }

    /// <summary>What is entered from changes, in a file that is closed and opened.</summary>
    private sealed class Book(Premise premise, string routes) : IDisposable
    {
        private readonly ChangeEntry _entry = new(new Routing(Settings(premise, routes)), alertsByMqtt: false, () => { });
        private DeliveryFile _file = DeliveryFile.Open(premise.Data);

        public void Enter(AlertChange change) => _file.InOneStep(book => _entry.Enter(book, "main", Told.Of(change)));

        public bool Remind(Moment at) => _file.InOneStep(book => _entry.Remind(book, at));

        public IEnumerable<string> Waiting() => _file.InOneStep(book => book.In(ParcelState.Waiting, null, long.MaxValue, 100)).Select(p => p.Recipient).Order(StringComparer.Ordinal);

        public Service.Telling.AlertChangeDocument Of(string recipient) => AlertMessage.Document(_file.InOneStep(book => book.In(ParcelState.Waiting, recipient, long.MaxValue, 1)).Single(), Language.En);

        public DeliveryTally Tally(string recipient) => _file.InOneStep(book => book.TallyOf(recipient));

        public void Reopen()
        {
            _file.Dispose();
            _file = DeliveryFile.Open(premise.Data);
        }

        public void Dispose() => _file.Dispose();
    }
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>What the desk sees of an overload from its beginning to the note that closes it, and of all that comes between.</summary>
public sealed class AlertJourneys
{
    private readonly Desk _desk = new();

    [Fact]
    public void A_sure_overload_stays_open_until_somebody_states_what_was_done()
    {
        _desk.Open(0);
        _desk.Take(p => new TellingInput.Contacted(p, Desk.Min(0.1), _desk.Only.Id, new Contact.Reached("controller", "screen", Desk.Min(0.1))));
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 1);
        _desk.Close(0, 30);
        _desk.Tick(60 * 24 * 30);
        Assert.IsType<AlertState.Unstated>(_desk.Only.State);
        Assert.Equal(new Contact.Reached("controller", "screen", Desk.Min(0.1)), Assert.Single(_desk.Only.Contacts));

        _desk.Do(new OperatorAction.StateDone("Ada", "offloaded 1.2 t at the quarry"), 60 * 24 * 30 + 1);
        Assert.Equal(ClosedAs.Stated, Assert.IsType<AlertState.Normal>(_desk.Only.State).As);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
    }

    [Fact]
    public void Whom_it_reached_and_whom_it_did_not_is_told_once_each_rings_nobody_and_is_kept()
    {
        _desk.Open(0);
        Contact reached = new Contact.Reached("anna", "mail", Desk.Min(1)), givenUp = new Contact.GivenUp("office", "webhook", Desk.Min(2), "It answers 410 Gone.");
        foreach (var contact in (Contact[])[reached, givenUp, reached, givenUp]) _desk.Take(p => new TellingInput.Contacted(p, Desk.Min(3), _desk.Only.Id, contact));
        Assert.Equal([reached, givenUp], _desk.Only.Contacts);
        Assert.Equal(["Began", "Reached", "NotReached"], _desk.Told.Select(c => c.Cause.GetType().Name));
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
        Assert.Equal([reached, givenUp], Assert.IsType<BookReading.Read>(AlertBookCodec.Decode(AlertBookCodec.Encode(_desk.Book))).Book.Alerts.Single().Contacts);
        Assert.Equal(ActionRefusal.UnknownAlert, _desk.Take(p => new TellingInput.Contacted(p, Desk.Min(3), _desk.Only.Id with { Since = Desk.Min(-9) }, reached)).Refused);
    }

    [Fact]
    public void A_book_of_before_contacts_were_entered_is_read_as_it_was()
    {
        _desk.Open(0);
        var bytes = AlertBookCodec.Encode(_desk.Book);
        bytes[0] = 1;
        Assert.Equal(_desk.Only.Id, Assert.IsType<BookReading.Read>(AlertBookCodec.Decode(bytes)).Book.Alerts.Single().Id);
        bytes[0] = 3;
        Assert.Equal(BookFault.OtherVersion, Assert.IsType<BookReading.Unreadable>(AlertBookCodec.Decode(bytes)).Fault);
    }

    [Fact]
    public void A_statement_made_while_it_was_likely_does_not_answer_for_what_became_sure()
    {
        _desk.Open(0, Level.Likely);
        _desk.Do(new OperatorAction.StateDone("Ada", "driver looks at it"), 1);
        Assert.True(Assert.Single(_desk.Say(Desk.Drive, 0, EpisodeChange.Rose, Level.Surely, 3).Changes).Rings);
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 4);
        _desk.Close(0, 10);
        Assert.IsType<AlertState.Unstated>(_desk.Only.State);
    }

    [Theory]
    [InlineData(Level.Likely)]
    [InlineData(Level.Surely)]
    public void A_rule_of_the_house_is_low_and_obliges_nobody(Level level)
    {
        _desk.Open(0, level, Desk.Steer);
        Assert.Equal(AlertPriority.Low, _desk.Only.Priority);
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 1);
        _desk.Close(0, 2, Desk.Steer);
        Assert.False(_desk.Only.State.IsOpen);
    }

    [Theory]
    [InlineData(FindingKind.CannotTell)]
    [InlineData(FindingKind.MovingOffAid)]
    [InlineData(FindingKind.Carried)]
    [InlineData(FindingKind.SuspensionOff)]
    public void A_standing_note_is_no_alert(FindingKind kind)
    {
        Assert.Empty(_desk.Open(0, Level.Likely, new FindingKey(kind, default, 0)).Changes);
        Assert.Empty(_desk.Correct(5, 0, Desk.InForce(0, null, Level.Likely, new FindingKey(kind, default, 0))).Changes);
        Assert.Empty(_desk.Book.Alerts);
    }

    [Fact]
    public void Every_kind_of_finding_has_a_place_in_the_table() =>
        Assert.All(Enum.GetValues<FindingKind>(), k => AlertPolicy.PriorityOf(new AlertSubject(new FindingKey(k, default, 0)), MarginStanding.Law, Level.Likely));

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_is_told_with_another_rings_with_it_once_in_either_order(bool leadFirst)
    {
        if (leadFirst) _desk.Open(0);
        _desk.Say(Desk.Rear, 0, EpisodeChange.Opened, Level.Surely, 0, with: Desk.Drive);
        if (!leadFirst) _desk.Open(0);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
        Assert.Equal(new AlertSubject(Desk.Rear), Assert.Single(_desk.Told[^1].With));

        _desk.Close(0, 5);
        Assert.True(_desk.Only.Holds);
        _desk.Close(0, 6, Desk.Rear);
        Assert.IsType<AlertState.ReturnedUnacknowledged>(_desk.Only.State);
    }

    [Fact]
    public void A_follower_whose_lead_never_comes_is_told_by_itself()
    {
        _desk.Say(Desk.Rear, 0, EpisodeChange.Opened, Level.Surely, 0, with: Desk.Drive);
        Assert.Empty(_desk.Told);
        Assert.True(Assert.Single(_desk.Tick(0.1).Changes).Rings);
    }

    [Fact]
    public void A_follower_that_is_said_by_itself_meanwhile_has_one_alert()
    {
        _desk.Say(Desk.Rear, 0, EpisodeChange.Opened, Level.Likely, 0, with: Desk.Drive);
        _desk.Say(Desk.Rear, 0, EpisodeChange.Rose, Level.Surely, 1);
        Assert.Empty(_desk.Tick(2).Changes);
        Assert.Equal(AlertPriority.High, _desk.Only.Priority);
    }

    [Fact]
    public void What_opens_and_closes_again_and_again_is_one_alert_with_a_count()
    {
        for (var i = 0; i < 6; i++)
        {
            _desk.Open(i * 4, Level.Likely, Desk.Drift);
            _desk.Close(i * 4, i * 4 + 2, Desk.Drift);
        }

        Assert.Equal(6, _desk.Only.Count);
        Assert.Equal(1, _desk.Told.Count(c => c.Rings));
        Assert.Same(_desk.Only, Assert.Single(AlarmRate.Chattering(_desk.Book)));
    }

    [Fact]
    public void What_comes_back_after_the_window_or_after_a_statement_is_another_alert()
    {
        _desk.Open(0);
        _desk.Close(0, 2);
        _desk.Do(new OperatorAction.StateDone("Ada", "took off 1 t"), 3);
        Assert.True(Assert.Single(_desk.Open(4).Changes).Rings);
        _desk.Close(4, 5);
        Assert.True(Assert.Single(_desk.Open(30).Changes).Rings);
        Assert.Equal(3, _desk.Book.Alerts.Count());
    }

    [Fact]
    public void Shelved_for_what_was_likely_it_comes_back_when_it_is_sure()
    {
        _desk.Open(0, Level.Likely);
        _desk.Do(new OperatorAction.Shelve("Ada", "driver called", Desk.Min(60)), 1);
        Assert.True(Assert.Single(_desk.Say(Desk.Drive, 0, EpisodeChange.Rose, Level.Surely, 3).Changes).Rings);
        Assert.IsType<AlertState.Unacknowledged>(_desk.Only.State);
    }

    [Fact]
    public void A_high_alert_escalates_once_after_ten_minutes_and_a_medium_one_when_told_so()
    {
        _desk.Open(0);
        Assert.Empty(_desk.Tick(9.9).Changes);
        Assert.IsType<AlertCause.Escalated>(Assert.Single(_desk.Tick(10).Changes).Cause);
        Assert.Empty(_desk.Tick(100).Changes);

        var other = new Desk { Settings = new AlertSettings { EscalateMedium = TimeSpan.FromMinutes(20) } };
        other.Open(0, Level.Likely);
        Assert.Empty(other.Tick(19).Changes);
        Assert.IsType<AlertCause.Escalated>(Assert.Single(other.Tick(21).Changes).Cause);
    }

    [Fact]
    public void A_backlog_of_hours_rings_only_for_what_still_holds()
    {
        _desk.Say(Desk.Drive, 0, EpisodeChange.Opened, Level.Likely, 0, known: 300);
        _desk.Say(Desk.Drive, 0, EpisodeChange.Closed, Level.Clear, 100, known: 300);
        _desk.Say(Desk.Rear, 200, EpisodeChange.Opened, Level.Surely, 200, known: 300);
        Assert.DoesNotContain(_desk.Told, c => c.Rings);
        Assert.Equal(ClosedAs.OverBeforeKnown, Assert.IsType<AlertState.Normal>(_desk.Book.Alerts.First().State).As);
        Assert.IsType<AlertCause.HoldsStill>(Assert.Single(_desk.Tick(301).Changes).Cause);
    }

    [Theory]
    [MemberData(nameof(Refusals))]
    public void An_action_that_makes_no_sense_is_refused_by_name(OperatorAction action, ActionRefusal expected)
    {
        _desk.Open(0);
        var before = AlertBookCodec.Encode(_desk.Book)[32..];
        Assert.Equal(expected, _desk.Do(action, 1).Refused);
        Assert.Equal(before, AlertBookCodec.Encode(_desk.Book)[32..]);
    }

    public static TheoryData<OperatorAction, ActionRefusal> Refusals() => new()
    {
        { new OperatorAction.Acknowledge(" "), ActionRefusal.NobodyNamed },
        { new OperatorAction.Shelve("Ada", "", Desk.Min(9)), ActionRefusal.ReasonMissing },
        { new OperatorAction.Shelve("Ada", "why", null), ActionRefusal.EndMissing },
        { new OperatorAction.Shelve("Ada", "why", Desk.Min(1)), ActionRefusal.EndNotAhead },
        { new OperatorAction.Shelve("Ada", "why", Desk.Min(60 * 24 * 8)), ActionRefusal.EndTooFar },
        { new OperatorAction.StateDone("Ada", "\t"), ActionRefusal.NoteEmpty },
        { new OperatorAction.StateDone("Ada", new string('x', 2001)), ActionRefusal.TextTooLong },
        { new OperatorAction.TakeOutOfService("Ada", ""), ActionRefusal.ReasonMissing },
    };

    [Fact]
    public void An_alert_nobody_knows_is_refused() => Assert.Equal(
        ActionRefusal.UnknownAlert,
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 0, new AlertId(Desk.Truck, AlertSubject.VehicleSilent, default)).Refused);

    [Fact]
    public void Closed_alerts_are_forgotten_and_open_ones_are_not()
    {
        _desk.Open(0, Level.Likely, Desk.Drift);
        _desk.Do(new OperatorAction.Acknowledge("Ada"), 1);
        _desk.Close(0, 2, Desk.Drift);
        _desk.Open(3);
        _desk.Tick(60 * 24 * 5);
        Assert.Equal(new AlertSubject(Desk.Drive), _desk.Only.Id.Subject);
        Assert.Empty(_desk.Correct(60 * 24 * 5, 0, Desk.InForce(0, 2, Level.Likely, Desk.Drift), Desk.InForce(3, null)).Changes);
        Assert.Single(AlarmRate.Stale(_desk.Book, Desk.Min(60 * 24 * 5)));
    }

    [Fact]
    public void Every_state_has_its_word()
    {
        var act = new Act("Ada", default);
        var unacknowledged = new AlertState.Unacknowledged();
        Assert.Equal("unacknowledged", AlertSentences.State(unacknowledged));
        Assert.Equal("acknowledged", AlertSentences.State(new AlertState.Acknowledged(act)));
        Assert.Equal("returned to normal, unacknowledged", AlertSentences.State(new AlertState.ReturnedUnacknowledged(default)));
        Assert.Equal("shelved", AlertSentences.State(new AlertState.Shelved(act, "why", default, unacknowledged)));
        Assert.Equal("suppressed by design", AlertSentences.State(new AlertState.SuppressedByDesign(Suppression.MayBeOver, unacknowledged)));
        Assert.Equal("out of service", AlertSentences.State(new AlertState.OutOfService(act, "why", unacknowledged)));
    }
}

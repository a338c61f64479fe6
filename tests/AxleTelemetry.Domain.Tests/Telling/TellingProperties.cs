using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Telling;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Telling;

/// <summary>Whatever happens, in whatever order: told the same again from the same inputs, told once, and kept in bytes.</summary>
public sealed class TellingProperties
{
    private const int Samples = 3000;

    private static readonly FindingKey[] Keys =
        [Desk.Drive, Desk.Rear, Desk.Steer, Desk.Drift, Desk.Key(MarginKind.AxleRating, 1), new(FindingKind.CannotTell, Desk.Drive.Margin, -1)];

    private readonly record struct Draw(int What, int Key, int Since, int Span, int Level, bool Flag);

    private static readonly Gen<Draw[]> Days =
        Gen.Select(Gen.Int[0, 11], Gen.Int[0, Keys.Length - 1], Gen.Int[0, 60], Gen.Int[0, 90], Gen.Int[2, 3], Gen.Bool)
            .Select((w, k, s, n, l, f) => new Draw(w, k, s, n, l, f)).Array[1, 60];

    [Fact]
    public void The_same_inputs_tell_the_same() => Days.Sample(day =>
    {
        var desk = Play(day);
        var book = AlertBook.Empty;
        var again = new List<string>();
        foreach (var input in desk.Taken)
        {
            var step = book.Step(input, desk.Settings);
            book = step.Book;
            again.AddRange(step.Changes.Select(Desk.Text));
        }

        Assert.Equal(desk.Told.Select(Desk.Text), again);
        Assert.Equal(AlertBookCodec.Encode(desk.Book), AlertBookCodec.Encode(book));
    }, iter: Samples);

    [Fact]
    public void A_book_read_back_from_bytes_goes_on_as_if_nothing_had_happened() => Days.Sample(day =>
    {
        var desk = Play(day);
        var book = AlertBook.Empty;
        var again = new List<string>();
        foreach (var input in desk.Taken)
        {
            var step = Reread(book).Step(input, desk.Settings);
            book = step.Book;
            again.AddRange(step.Changes.Select(Desk.Text));
        }

        Assert.Equal(desk.Told.Select(Desk.Text), again);
        Assert.Equal(AlertBookCodec.Encode(desk.Book), AlertBookCodec.Encode(Reread(book)));
    }, iter: Samples);

    [Fact]
    public void An_episode_has_one_alert_at_most_and_changes_are_numbered_without_gaps() => Days.Sample(day =>
    {
        var desk = Play(day);
        var episodes = desk.Book.Alerts.SelectMany(a => a.Episodes.Select(e => (e.Subject, e.Since))).ToArray();
        Assert.Equal(episodes.Length, episodes.Distinct().Count());
        Assert.Equal(desk.Book.Alerts.Count(), desk.Book.Alerts.Select(a => a.Id).Distinct().Count());
        foreach (var alert in desk.Told.GroupBy(c => c.Id))
        {
            Assert.Equal(Enumerable.Range(1, alert.Count()), alert.Select(c => c.Number));
            Assert.Equal(1, alert.Count(c => c.Number == 1 || c.Cause is AlertCause.Began));
        }
    }, iter: Samples);

    [Fact]
    public void Inputs_that_come_twice_tell_nothing_more() => Days.Sample(day =>
    {
        var desk = Play(day);
        foreach (var input in desk.Taken) Assert.Empty(desk.Book.Step(input, desk.Settings).Changes);
        // The same words of a lane once more, as news: nothing is told of what was told.
        var known = desk.Book.Alerts.SelectMany(a => a.Episodes.Where(e => e is { Void: false, Subject.Finding: not null })).ToArray();
        foreach (var e in known)
            Assert.Empty(desk.Say(e.Subject.Finding!.Value, e.Since.UnixMilliseconds / 60_000.0, EpisodeChange.Opened, e.Level, 500).Changes);
    }, iter: Samples);

    [Fact]
    public void A_correction_that_says_what_is_known_says_nothing_and_one_that_takes_all_away_never_rings() => Days.Sample(day =>
    {
        var desk = Play(day);
        var known = desk.Book.Alerts.SelectMany(a => a.Episodes.Where(e => e is { Void: false, Subject.Finding: not null }))
            .Select(e => new EpisodeInForce(e.Subject.Finding!.Value, e.Since, e.Ended, e.Level, e.Highest, e.Standing)).ToArray();
        Assert.Empty(desk.Correct(500, -100, known).Changes);
        Assert.DoesNotContain(desk.Correct(501, -100).Changes, c => c.Rings);
        Assert.DoesNotContain(desk.Book.Alerts, a => a.State.IsOpen && a.Id.Subject.Finding is not null && a.State is AlertState.Shown);
        // All of it back again: each was told once.
        Assert.DoesNotContain(desk.Correct(502, -100, known).Changes, c => c.Cause is AlertCause.Began);
    }, iter: Samples);

    [Fact]
    public void What_holds_unacknowledged_has_rung_unless_a_person_had_put_it_aside() => Days.Sample(day =>
    {
        var desk = Play(day);
        foreach (var alert in desk.Book.Alerts.Where(a => a is { Holds: true, State: AlertState.Unacknowledged }))
            Assert.Contains(desk.Told, c => c.Id == alert.Id && (c.Rings || c.Cause is AlertCause.Acted));
    }, iter: Samples);

    [Fact]
    public void What_holds_is_never_closed_and_what_is_owed_is_never_closed_without_a_word() => Days.Sample(day =>
    {
        foreach (var alert in Play(day).Book.Alerts.Where(a => !a.State.IsOpen))
        {
            Assert.False(alert.Holds);
            Assert.False(alert.Owes);
        }
    }, iter: Samples);

    [Fact]
    public void Bytes_that_were_cut_or_changed_are_refused_by_name()
    {
        var desk = new Desk();
        desk.Open(0);
        var bytes = AlertBookCodec.Encode(desk.Book);
        Assert.Equal(new BookReading.Unreadable(BookFault.TooShort), AlertBookCodec.Decode(bytes.AsSpan(0, 3)));
        Assert.Equal(new BookReading.Unreadable(BookFault.OtherLength), AlertBookCodec.Decode(bytes.AsSpan(0, bytes.Length - 1)));
        for (var i = 0; i < bytes.Length; i++)
        {
            var changed = bytes.ToArray();
            changed[i] ^= 0x40;
            Assert.IsType<BookReading.Unreadable>(AlertBookCodec.Decode(changed));
        }
    }

    private static AlertBook Reread(AlertBook book) => Assert.IsType<BookReading.Read>(AlertBookCodec.Decode(AlertBookCodec.Encode(book))).Book;

    private static Desk Play(Draw[] day)
    {
        var desk = new Desk();
        var now = 60.0;
        foreach (var draw in day)
        {
            now += draw.Span / 30.0;
            Play(desk, draw, now);
        }

        return desk;
    }

    private static void Play(Desk desk, Draw draw, double now)
    {
        var key = Keys[draw.Key];
        var level = (Level)draw.Level;
        var since = draw.Since * 3.0;
        var alert = desk.Book.Alerts.ElementAtOrDefault(draw.Since % Math.Max(1, desk.Book.Alerts.Count()))?.Id
            ?? new AlertId(Desk.Truck, new AlertSubject(key), Desk.Min(since));
        var open = desk.Book.Alerts.SelectMany(a => a.Episodes).LastOrDefault(e => e.Holds && e.Subject == new AlertSubject(key));
        var held = open?.Since.UnixMilliseconds / 60_000.0 ?? since;
        _ = draw.What switch
        {
            0 or 1 => desk.Say(key, Math.Min(since, now), EpisodeChange.Opened, level, now, with: draw.Flag && draw.Key != 0 ? Desk.Drive : null),
            2 => desk.Say(key, held, level == Level.Surely ? EpisodeChange.Rose : EpisodeChange.Fell, level, now),
            3 or 4 => desk.Say(key, held, EpisodeChange.Closed, Level.Clear, now),
            5 => desk.Correct(now, since - 30, Desk.InForce(since, draw.Flag ? Math.Min(now, since + draw.Span) : null, level, key)),
            6 => desk.Do(new OperatorAction.Acknowledge("Ada"), now, alert),
            7 => draw.Flag ? desk.Do(new OperatorAction.Shelve("Ada", "later", Desk.Min(now + draw.Span)), now, alert) : desk.Do(new OperatorAction.Unshelve("Ada"), now, alert),
            8 => desk.Do(new OperatorAction.StateDone("Bea", "went and looked \ud83d"), now, alert),
            9 => draw.Flag ? desk.Do(new OperatorAction.TakeOutOfService("Ada", "broken"), now, alert) : desk.Do(new OperatorAction.PutBack("Ada"), now, alert),
            10 => desk.Tick(now),
            _ => draw.Flag ? desk.Hear(now) : desk.Take(p => new TellingInput.Contacted(p, Desk.Min(now), alert, draw.Level % 2 == 0 ? new Contact.Reached("desk", "screen", Desk.Min(now)) : new Contact.GivenUp("anna", "mail", Desk.Min(now), "no such mailbox"))),
        };
    }
}

using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.FittedTyres;

/// <summary>Drawn histories of a workshop that does only what can be done.</summary>
public sealed class TyreLedgerProperties
{
    private static readonly TyrePlace[] Places = [.. Enumerable.Range(0, 3).SelectMany(a => new[] { TyrePosition.Left, TyrePosition.Right }.Select(p => new TyrePlace("RT-01", $"a{a}", p)))];

    /// <summary>What tyres went through adds up to what was given to axles, and the ledger agrees with a day-by-day book.</summary>
    [Fact]
    public void Nothing_is_lost_between_axles_and_tyres()
    {
        for (ulong seed = 1; seed <= 100; seed++)
        {
            var (events, book) = Draw(new SeededRandom(seed));
            var ledger = Assert.IsType<TyreLedgerResult.Kept>(TyreLedger.Of(events)).Ledger;
            AxleDay[] days = [.. Enumerable.Range(0, 60).SelectMany(d => Enumerable.Range(0, 3).Select(a => new AxleDay("RT-01", $"a{a}", Day(d), 2, new(100, 200 + d, a + 1, 8))))];
            var account = ledger.Account(days);
            foreach (var (day, place) in Enumerable.Range(0, 60).SelectMany(d => Places.Select(p => (d, p))))
                Assert.True(book[day].GetValueOrDefault(place) == ledger.On(place, Day(day)), $"seed {seed}, day {day}, {place}");
            var given = days.Sum(d => Places.Count(p => p.Axle == d.Axle && book[d.Day.DayNumber - Day(0).DayNumber].ContainsKey(p)) * d.Exposure.Tread / 2);
            Assert.True(Math.Abs(given - account.Tyres.Sum(t => t.Whole.Tread)) < 1e-6, $"seed {seed}");
            Assert.All(account.Tyres, t => Assert.True(t.SinceRetread.Metres <= t.Whole.Metres, $"seed {seed}"));
        }
    }

    private static (List<TyreEvent> Events, List<Dictionary<TyrePlace, string>> Book) Draw(SeededRandom random)
    {
        List<TyreEvent> events = [];
        List<Dictionary<TyrePlace, string>> book = [];
        Dictionary<TyrePlace, string> now = [];
        for (var day = 0; day < 60; day++)
        {
            for (var i = random.Whole(0, 2); i > 0; i--) Act(random, day, now, events);
            book.Add(new(now));
        }

        return (events, book);
    }

    private static void Act(SeededRandom random, int day, Dictionary<TyrePlace, string> now, List<TyreEvent> events)
    {
        var tyre = $"T{random.Whole(1, 8)}";
        var place = Places[random.Whole(0, Places.Length - 1)];
        var here = now.FirstOrDefault(n => n.Value == tyre).Key;
        if (here == default && random.Chance(0.2)) events.Add(new TyreEvent.Retreaded(Day(day), tyre));
        else if (here == default && now.TryAdd(place, tyre)) events.Add(new TyreEvent.Fitted(Day(day), tyre, place));
        else if (here != default && random.Chance(0.5) && now.TryAdd(place, tyre))
        {
            now.Remove(here);
            events.Add(new TyreEvent.Rotated(Day(day), tyre, place));
        }
        else if (now.FirstOrDefault(n => n.Value == tyre).Key is var there && there != default && now.Remove(there)) events.Add(new TyreEvent.Removed(Day(day), tyre));
    }

    private static DateOnly Day(int number) => new DateOnly(2026, 3, 1).AddDays(number);
}

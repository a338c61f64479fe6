using System.Collections.Immutable;

namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>Which tyre was where and when. Immutable; made of all events at once, so that one that cannot be refuses them as a whole.</summary>
public sealed class TyreLedger
{
    private readonly ImmutableDictionary<(string Vehicle, string Axle), ImmutableArray<TyreStay>> _byAxle;
    private readonly ImmutableSortedDictionary<string, ImmutableArray<DateOnly>> _retreads;

    private TyreLedger(ImmutableArray<TyreStay> stays, ImmutableSortedDictionary<string, ImmutableArray<DateOnly>> retreads)
    {
        Stays = stays;
        _retreads = retreads;
        _byAxle = stays.GroupBy(s => (s.At.Vehicle, s.At.Axle)).ToImmutableDictionary(g => g.Key, g => g.ToImmutableArray());
    }

    /// <summary>No tyre known.</summary>
    public static TyreLedger Empty { get; } = new([], ImmutableSortedDictionary.Create<string, ImmutableArray<DateOnly>>(StringComparer.Ordinal));

    /// <summary>Every stay, by its first day.</summary>
    public ImmutableArray<TyreStay> Stays { get; }

    /// <summary>Ids of all tyres that anything was done to, in order.</summary>
    public IEnumerable<string> Tyres => _retreads.Keys;

    /// <summary>Takes events of any order; those of one day in the order given.</summary>
    public static TyreLedgerResult Of(IReadOnlyList<TyreEvent> events)
    {
        var round = new TyreRound();
        foreach (var day in events.Select((e, i) => (Event: e, Index: i)).GroupBy(e => e.Event.On).OrderBy(g => g.Key)) round.Take(day);
        if (round.Problems.Count > 0) return new TyreLedgerResult.Refused([.. round.Problems.OrderBy(p => p.Index)]);
        return new TyreLedgerResult.Kept(new TyreLedger([.. round.Stays.OrderBy(s => s.From).ThenBy(s => s.Tyre, StringComparer.Ordinal)],
            round.Retreads.ToImmutableSortedDictionary(t => t.Key, t => t.Value.ToImmutableArray(), StringComparer.Ordinal)));
    }

    /// <summary>The tyre at a place at the end of a day; <c>null</c> where none is known.</summary>
    public string? On(TyrePlace place, DateOnly day) => OnAxle(place.Vehicle, place.Axle, day).FirstOrDefault(s => s.At == place)?.Tyre;

    /// <summary>Where a tyre was at the end of a day; <c>null</c> where on no vehicle.</summary>
    public TyrePlace? WhereWas(string tyre, DateOnly day) => Stays.FirstOrDefault(s => s.Tyre == tyre && s.Holds(day))?.At;

    /// <summary>All tyres on an axle at the end of a day.</summary>
    public IEnumerable<TyreStay> OnAxle(string vehicle, string axle, DateOnly day) =>
        _byAxle.GetValueOrDefault((vehicle, axle), []).Where(s => s.Holds(day));

    /// <summary>Gives each day of an axle to the tyres that were on it.</summary>
    public TyreAccount Account(IEnumerable<AxleDay> days)
    {
        var lives = Tyres.ToDictionary(t => t, Unused, StringComparer.Ordinal);
        var unclaimed = ImmutableArray.CreateBuilder<AxleDay>();
        foreach (var day in days)
        {
            var any = false;
            foreach (var stay in OnAxle(day.Vehicle, day.Axle, day.Day))
            {
                lives[stay.Tyre] = After(lives[stay.Tyre], day);
                any = true;
            }

            if (!any) unclaimed.Add(day);
        }

        return new TyreAccount([.. Tyres.Select(t => lives[t])], unclaimed.ToImmutable());
    }

    private TyreLife Unused(string tyre) => new(tyre, default, default, _retreads[tyre].Length, _retreads[tyre] is [.., var last] ? last : null);

    private static TyreLife After(TyreLife life, AxleDay day)
    {
        var own = day.Exposure.OneOf(day.Tyres);
        var sinceRetread = life.RetreadedOn is not { } retread || day.Day >= retread ? life.SinceRetread + own : life.SinceRetread;
        return life with { Whole = life.Whole + own, SinceRetread = sinceRetread };
    }
}

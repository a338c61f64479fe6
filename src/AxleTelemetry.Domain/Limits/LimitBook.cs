using System.Collections.Immutable;
using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// Every table in use, by country and day. A country's newest table whose first day has come takes the place of its older ones for the same trips. In a
/// country without a table, and where no country is known, the fall-back holds. Immutable.
/// </summary>
public sealed class LimitBook
{
    private readonly ImmutableSortedDictionary<Country, ImmutableArray<(DateOnly From, int Stack)>> _byCountry;

    private LimitBook(ImmutableArray<LimitSet> sets, LimitSet fallBack)
    {
        Sets = sets;
        var stacks = new List<LimitStack> { LimitStack.Of(fallBack) };
        var byCountry = ImmutableSortedDictionary.CreateBuilder<Country, ImmutableArray<(DateOnly, int)>>();
        foreach (var country in sets.SelectMany(s => s.Countries).Distinct())
        {
            ImmutableArray<LimitSet> own = [.. sets.Where(s => s.Countries.Contains(country))];
            byCountry.Add(country, [.. own.Select(s => s.From ?? DateOnly.MinValue).Prepend(DateOnly.MinValue).Distinct().Order().Select(day => (day, Number(stacks, At(own, fallBack, day))))]);
        }

        _byCountry = byCountry.ToImmutable();
        Stacks = [.. stacks];
    }

    /// <summary>The tables it was made of.</summary>
    public ImmutableArray<LimitSet> Sets { get; }

    /// <summary>What may hold somewhere at some time; the first where no country is known.</summary>
    public ImmutableArray<LimitStack> Stacks { get; }

    /// <summary>A book of one table for everywhere.</summary>
    public static LimitBook Of(LimitSet set) => new([set], set);

    /// <summary>A book of tables, or everything that is wrong with them together.</summary>
    public static LimitBookResult Of(ImmutableArray<LimitSet> sets)
    {
        // One table by itself is meant for everywhere, whatever it says of countries.
        if (sets.Length == 1) return new LimitBookResult.Made(Of(sets[0]));
        var wrong = ImmutableArray.CreateBuilder<string>();
        ImmutableArray<LimitSet> bases = [.. sets.Where(s => s.Countries.IsEmpty)];
        if (bases.IsEmpty) wrong.Add("No table is there for where no country is known: one has to be without 'countries'.");
        if (bases.Length > 1) wrong.Add($"Only one table may be without 'countries': {string.Join(", ", bases.Select(s => s.Id))}.");
        foreach (var same in sets.GroupBy(s => s.Id).Where(g => g.Count() > 1)) wrong.Add($"The id '{same.Key}' stands in more than one table.");
        foreach (var twice in sets.SelectMany(s => s.Countries.Select(c => (Country: c, Set: s))).GroupBy(p => (p.Country, p.Set.AppliesTo, p.Set.From)).Where(g => g.Count() > 1))
            wrong.Add($"{string.Join(" and ", twice.Select(t => t.Set.Id))} are both for {twice.Key.Country}, the same trips and from the same day on: one has to go, or to say from when it holds.");
        return wrong.Count > 0 ? new LimitBookResult.Refused(wrong.ToImmutable()) : new LimitBookResult.Made(new LimitBook(sets, bases[0]));
    }

    /// <summary>True where both hold the same tables, word for word.</summary>
    public bool IsSame(LimitBook other) => ReferenceEquals(this, other) || Sets.Length == other.Sets.Length && Sets.Zip(other.Sets).All(s => s.First.IsSame(s.Second));

    /// <summary>Which of <see cref="Stacks"/> holds in a country on a day. Allocates nothing.</summary>
    public int StackAt(Country country, DateOnly day)
    {
        if (country.IsNone || !_byCountry.TryGetValue(country, out var eras)) return 0;
        var stack = eras[0].Stack;
        foreach (var era in eras)
            if (era.From <= day) stack = era.Stack;
        return stack;
    }

    /// <summary>Days on which other tables begin to hold in a country.</summary>
    internal IEnumerable<DateOnly> DaysOf(Country country) => _byCountry.TryGetValue(country, out var eras) ? eras.Select(e => e.From) : [];

    /// <summary>Indexes into <see cref="Stacks"/> such that every other stack has the limits of one of them, in other masses at most.</summary>
    public IEnumerable<int> Shapes()
    {
        var shapes = new List<int>();
        for (var i = 0; i < Stacks.Length; i++)
            if (!shapes.Any(s => Stacks[s].HasKeysOf(Stacks[i])))
                shapes.Add(i);
        return shapes;
    }

    private static LimitStack At(ImmutableArray<LimitSet> own, LimitSet fallBack, DateOnly day)
    {
        return new LimitStack(Layers(TripScope.National), Layers(TripScope.International));

        ImmutableArray<LimitSet> Layers(TripScope trip)
        {
            ImmutableArray<LimitSet> layers = [.. own.Where(s => s.AppliesTo == trip || s.AppliesTo == TripScope.All)
                .GroupBy(s => s.AppliesTo).Select(g => g.Where(s => (s.From ?? DateOnly.MinValue) <= day).MaxBy(s => s.From ?? DateOnly.MinValue)).OfType<LimitSet>()
                .OrderBy(s => s.AppliesTo == TripScope.All)];
            return layers.Any(s => s.StandsAlone) ? layers : [.. layers, fallBack];
        }
    }

    private static int Number(List<LimitStack> stacks, LimitStack stack)
    {
        var at = stacks.FindIndex(s => s.Holds(stack));
        if (at >= 0) return at;
        stacks.Add(stack);
        return stacks.Count - 1;
    }
}

/// <summary>What came of putting tables together.</summary>
public abstract record LimitBookResult
{
    private LimitBookResult() { }

    /// <summary>A book.</summary>
    public sealed record Made(LimitBook Book) : LimitBookResult;

    /// <summary>They do not go together, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<string> Errors) : LimitBookResult;
}

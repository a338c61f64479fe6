using System.Collections.Immutable;
using System.Numerics;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// The permits of a combination over the tables of a book. Every mixture of tables with permits in force and broken that can arise is numbered here once,
/// behind the book's own stacks, so that a lane's state holds one number.
/// </summary>
internal sealed class PermittedLaw
{
    // Each may be asked for its limits in every position of the lifts.
    private const int MostMixtures = 512;

    private readonly LimitBook _book;
    private readonly ImmutableArray<Permit> _permits;
    private readonly ulong _withSpeed;
    private readonly ImmutableArray<Mixture> _mixtures;

    /// <summary>Numbers the mixtures.</summary>
    /// <param name="book">The tables.</param>
    /// <param name="permits">Permits of the combination.</param>
    /// <exception cref="ArgumentException">There are too many: ask <see cref="WhyNot"/>.</exception>
    public PermittedLaw(LimitBook book, ImmutableArray<Permit> permits)
    {
        if (WhyNot(permits) is { } wrong) throw new ArgumentException(wrong, nameof(permits));
        (_book, _permits) = (book, permits);
        for (var i = 0; i < permits.Length; i++)
            if (permits[i].MostSpeed is not null)
                _withSpeed |= 1ul << i;
        var mixtures = new List<Mixture>();
        foreach (var country in permits.SelectMany(p => p.Countries).Distinct().Order())
            foreach (var day in _book.DaysOf(country).Concat(permits.SelectMany(p => (DateOnly[])[p.From, p.Until < DateOnly.MaxValue ? p.Until.AddDays(1) : p.Until])).Distinct().Order())
                Add(mixtures, _book.StackAt(country, day), InForce(country, day));
        if (mixtures.Count > MostMixtures) throw new ArgumentException($"Permits, days and tables give {mixtures.Count} different laws; {MostMixtures} are possible.", nameof(permits));
        _mixtures = [.. mixtures];
    }

    /// <summary>Why permits are too many for one combination; <c>null</c> where they are not.</summary>
    public static string? WhyNot(IReadOnlyCollection<Permit> permits)
    {
        if (permits.Count > Permit.Most) return $"{permits.Count} permits concern it; {Permit.Most} are possible. Leave out those whose days are over.";
        foreach (var permit in permits.Where(p => p.MostSpeed is not null))
            foreach (var country in permit.Countries)
                if (permits.Count(p => p.MostSpeed is not null && p.HoldsIn(country, permit.From)) is > Permit.MostWithSpeed and var many)
                    return $"{many} permits with a speed hold in {country} on {permit.From:yyyy-MM-dd}; {Permit.MostWithSpeed} are possible.";
        return null;
    }

    /// <summary>The permits, in the order of their bits.</summary>
    public ImmutableArray<Permit> Permits => _permits;

    /// <summary>How many mixtures there are besides the book's own stacks.</summary>
    public int Count => _mixtures.Length;

    /// <summary>The number of what holds in a country on a day. Allocates nothing.</summary>
    /// <param name="country">Where.</param>
    /// <param name="day">When.</param>
    /// <param name="broken">A bit for each permit whose speed was passed with the load in hand.</param>
    public int StackAt(Country country, DateOnly day, ulong broken)
    {
        var tables = _book.StackAt(country, day);
        if (_permits.IsEmpty || InForce(country, day) is not (not 0 and var inForce)) return tables;
        var wanted = new Mixture(tables, inForce, broken & inForce & _withSpeed);
        for (var i = 0; i < _mixtures.Length; i++)
            if (_mixtures[i] == wanted)
                return _book.Stacks.Length + i;
        throw new InvalidOperationException($"No mixture of {country} on {day} was numbered.");
    }

    /// <summary>The tables and permits of a number.</summary>
    public (LimitStack Tables, PermitsInForce Permits) Of(int stack)
    {
        if (stack < _book.Stacks.Length) return (_book.Stacks[stack], PermitsInForce.None);
        var mixture = _mixtures[stack - _book.Stacks.Length];
        return (_book.Stacks[mixture.Tables], new PermitsInForce(Chosen(mixture.InForce & ~mixture.Broken), Chosen(mixture.Broken)));
    }

    /// <summary>The slowest speed that a permit names which holds now; not a number where none does. Allocates nothing.</summary>
    /// <param name="stack">What holds.</param>
    /// <param name="permits">A bit for each permit with that speed.</param>
    public double MostSpeed(int stack, out ulong permits)
    {
        (permits, var least) = (0, double.NaN);
        if (stack < _book.Stacks.Length) return least;
        ref readonly var mixture = ref _mixtures.AsSpan()[stack - _book.Stacks.Length];
        for (var left = mixture.InForce & ~mixture.Broken & _withSpeed; left != 0; left &= left - 1)
        {
            var i = BitOperations.TrailingZeroCount(left);
            var speed = _permits[i].MostSpeed!.Value;
            if (speed > least) continue;
            permits = speed == least ? permits | 1ul << i : 1ul << i;
            least = speed;
        }

        return least;
    }

    /// <summary>True where both are of the same permits.</summary>
    public bool IsSame(PermittedLaw other) => _permits.Length == other._permits.Length && _permits.Zip(other._permits).All(p => p.First.IsSame(p.Second));

    private void Add(List<Mixture> mixtures, int tables, ulong inForce)
    {
        if (inForce == 0) return;
        var withSpeed = inForce & _withSpeed;
        // Every subset of those with a speed may be broken.
        for (var broken = withSpeed; ; broken = (broken - 1) & withSpeed)
        {
            var mixture = new Mixture(tables, inForce, broken);
            if (!mixtures.Contains(mixture)) mixtures.Add(mixture);
            if (broken == 0) return;
        }
    }

    private ulong InForce(Country country, DateOnly day)
    {
        ulong inForce = 0;
        for (var i = 0; i < _permits.Length; i++)
            if (_permits[i].HoldsIn(country, day))
                inForce |= 1ul << i;
        return inForce;
    }

    private ImmutableArray<Permit> Chosen(ulong bits) => [.. _permits.Where((_, i) => (bits >> i & 1) != 0)];

    private readonly record struct Mixture(int Tables, ulong InForce, ulong Broken);
}

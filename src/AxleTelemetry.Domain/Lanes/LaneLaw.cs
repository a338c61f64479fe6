using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>The limits of a combination in every place: which tables hold where, and how countries are told.</summary>
public sealed class LaneLaw
{
    private readonly PermittedLaw? _permitted;
    private readonly Func<int, Configuration, ImmutableArray<Margin>> _margins;

    private LaneLaw(LimitBook? book, PermittedLaw? permitted, LimitContext context, ICountryMap map, Func<int, Configuration, ImmutableArray<Margin>> margins) =>
        (Book, _permitted, Context, Map, _margins) = (book, permitted, context, map, margins);

    /// <summary>The same limits everywhere.</summary>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    public static LaneLaw Everywhere(Func<Configuration, ImmutableArray<Margin>> margins) =>
        new(null, null, LimitContext.Undeclared, NoCountries.Known, (_, configuration) => margins(configuration));

    /// <summary>Limits by country and day.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="book">The tables.</param>
    /// <param name="context">What is known of the trip.</param>
    /// <param name="map">Tells countries.</param>
    public static LaneLaw ByPlace(Combination combination, LimitBook book, LimitContext context, ICountryMap map) => ByPlace(combination, book, context, map, []);

    /// <summary>Limits by country and day, and permits.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="book">The tables.</param>
    /// <param name="context">What is known of the trip.</param>
    /// <param name="map">Tells countries.</param>
    /// <param name="permits">Permits; those of other vehicles are left out.</param>
    public static LaneLaw ByPlace(Combination combination, LimitBook book, LimitContext context, ICountryMap map, IEnumerable<Permit> permits)
    {
        var permitted = new PermittedLaw(book, [.. permits.Where(p => p.IsFor(combination))]);
        return new(book, permitted, context, map, (stack, configuration) =>
        {
            var (tables, inForce) = permitted.Of(stack);
            return MarginTable.For(combination, configuration, tables, context, inForce);
        });
    }

    /// <summary>Why the permits that concern a combination are too many to be followed; <c>null</c> where they are not.</summary>
    public static string? WhyNot(Combination combination, IEnumerable<Permit> permits) => WhyNot([.. permits.Where(p => p.IsFor(combination))]);

    /// <summary>Why permits are too many for one combination; <c>null</c> where they are not.</summary>
    public static string? WhyNot(IReadOnlyCollection<Permit> permits) => PermittedLaw.WhyNot(permits);

    /// <summary>The tables; <c>null</c> where limits are the same everywhere.</summary>
    public LimitBook? Book { get; }

    /// <summary>Permits of the combination, of whatever day and place.</summary>
    public ImmutableArray<Permit> Permits => _permitted?.Permits ?? [];

    /// <summary>What is known of the trip.</summary>
    public LimitContext Context { get; }

    /// <summary>Tells countries.</summary>
    public ICountryMap Map { get; }

    /// <summary>How many different limits there may be: a number for each stack of tables, then one for each mixture of tables and permits.</summary>
    public int Stacks => (Book?.Stacks.Length ?? 1) + (_permitted?.Count ?? 0);

    /// <summary>Which of them holds in a country at a moment.</summary>
    /// <param name="country">Where.</param>
    /// <param name="at">When.</param>
    /// <param name="broken">A bit for each permit whose speed was passed.</param>
    public int StackAt(Country country, Moment at, ulong broken = 0) => _permitted?.StackAt(country, DayOf(at), broken) ?? 0;

    /// <summary>The tables of a number.</summary>
    public LimitStack? TablesOf(int stack) => _permitted?.Of(stack).Tables;

    /// <summary>The permits of a number.</summary>
    public PermitsInForce PermitsOf(int stack) => _permitted?.Of(stack).Permits ?? PermitsInForce.None;

    /// <summary>The slowest speed that a permit names which holds; not a number where none does.</summary>
    internal double MostSpeed(int stack, out ulong permits)
    {
        permits = 0;
        return _permitted?.MostSpeed(stack, out permits) ?? double.NaN;
    }

    private static DateOnly DayOf(Moment at) =>
        DateOnly.FromDayNumber((int)Math.Clamp(DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber + Math.Floor(at.UnixMilliseconds / 86_400_000.0), 0, DateOnly.MaxValue.DayNumber));

    /// <summary>The limits of a configuration in one of them.</summary>
    public ImmutableArray<Margin> Margins(int stack, Configuration configuration) => _margins(stack, configuration);

    /// <summary>Every limit that exists in any position of the lifts, relieved ones included, under any of them, and is judged.</summary>
    public ImmutableArray<MarginKey> Keys(LoadModel model, Func<Margin, bool> isJudged)
    {
        // What is left of a group beside a relieved axle may be a group of its own, which no raised or loaded one leaves.
        ImmutableArray<Configuration> standing = [.. model.StandingConfigurations()];
        IEnumerable<int> stacks = Book is null ? [0] : [.. Book.Shapes(), .. Enumerable.Range(Book.Stacks.Length, Stacks - Book.Stacks.Length)];
        return [.. stacks.SelectMany(stack => standing.SelectMany(c => _margins(stack, c))).Where(isJudged).Select(m => m.Key).Distinct().Order()];
    }

    /// <summary>True where both say the same everywhere, as far as tables, permits, trip and map say it; limits given for everywhere are compared by <see cref="JudgeTable"/>.</summary>
    internal bool IsSame(LaneLaw other) =>
        Context == other.Context && ReferenceEquals(Map, other.Map) && (Book is null ? other.Book is null : other.Book is not null && Book.IsSame(other.Book) && _permitted!.IsSame(other._permitted!));
}

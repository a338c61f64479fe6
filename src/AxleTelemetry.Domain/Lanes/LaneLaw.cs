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
    private readonly Func<int, Configuration, ImmutableArray<Margin>> _margins;

    private LaneLaw(LimitBook? book, LimitContext context, ICountryMap map, Func<int, Configuration, ImmutableArray<Margin>> margins) =>
        (Book, Context, Map, _margins) = (book, context, map, margins);

    /// <summary>The same limits everywhere.</summary>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    public static LaneLaw Everywhere(Func<Configuration, ImmutableArray<Margin>> margins) =>
        new(null, LimitContext.Undeclared, NoCountries.Known, (_, configuration) => margins(configuration));

    /// <summary>Limits by country and day.</summary>
    /// <param name="combination">The vehicles.</param>
    /// <param name="book">The tables.</param>
    /// <param name="context">What is known of the trip.</param>
    /// <param name="map">Tells countries.</param>
    public static LaneLaw ByPlace(Combination combination, LimitBook book, LimitContext context, ICountryMap map) =>
        new(book, context, map, (stack, configuration) => MarginTable.For(combination, configuration, book.Stacks[stack], context));

    /// <summary>The tables; <c>null</c> where limits are the same everywhere.</summary>
    public LimitBook? Book { get; }

    /// <summary>What is known of the trip.</summary>
    public LimitContext Context { get; }

    /// <summary>Tells countries.</summary>
    public ICountryMap Map { get; }

    /// <summary>How many different tables there may be.</summary>
    public int Stacks => Book?.Stacks.Length ?? 1;

    /// <summary>Which of them holds in a country at a moment.</summary>
    public int StackAt(Country country, Moment at) => Book?.StackAt(country, DayOf(at)) ?? 0;

    private static DateOnly DayOf(Moment at) =>
        DateOnly.FromDayNumber((int)Math.Clamp(DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber + Math.Floor(at.UnixMilliseconds / 86_400_000.0), 0, DateOnly.MaxValue.DayNumber));

    /// <summary>The limits of a configuration in one of them.</summary>
    public ImmutableArray<Margin> Margins(int stack, Configuration configuration) => _margins(stack, configuration);

    /// <summary>Every limit that exists in any position of the lifts under any of them.</summary>
    public ImmutableArray<MarginKey> Keys(LoadModel model)
    {
        ImmutableArray<Configuration> lifts = [.. model.LiftConfigurations().Select(map => map.Configuration)];
        return [.. (Book?.Shapes() ?? [0]).SelectMany(stack => lifts.SelectMany(c => _margins(stack, c))).Select(m => m.Key).Distinct().Order()];
    }

    /// <summary>True where both say the same everywhere, as far as tables, trip and map say it; limits given for everywhere are compared by <see cref="JudgeTable"/>.</summary>
    internal bool IsSame(LaneLaw other) =>
        Context == other.Context && ReferenceEquals(Map, other.Map) && (Book is null ? other.Book is null : other.Book is not null && Book.IsSame(other.Book));
}

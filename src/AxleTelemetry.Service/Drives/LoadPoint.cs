using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Drives;

/// <summary>The least and the greatest of a figure within a stretch of time, each with when it was; both <c>null</c> where none was given.</summary>
internal readonly record struct Extremes(Estimated? Least, Moment LeastAt, Estimated? Greatest, Moment GreatestAt)
{
    public Extremes With(Estimated? figure, Moment at)
    {
        if (figure is not { } value) return this;
        var result = this;
        if (Least is not { } least || value.Mean < least.Mean) result = result with { Least = value, LeastAt = at };
        if (Greatest is not { } greatest || value.Mean > greatest.Mean) result = result with { Greatest = value, GreatestAt = at };
        return result;
    }

    public Extremes With(Extremes other) => With(other.Least, other.LeastAt).With(other.Greatest, other.GreatestAt);
}

/// <summary>What is drawn at one place of a line: everything between two moments.</summary>
internal sealed record LoadPoint
{
    public required Moment From { get; init; }

    public required Moment To { get; init; }

    /// <summary>Rows of history in it.</summary>
    public required int Rows { get; init; }

    public required Extremes Gross { get; init; }

    public required ImmutableArray<Extremes> Axles { get; init; }

    public static LoadPoint Of(HistoryRow.Load row) => new()
    {
        From = row.Key.At,
        To = row.Key.At,
        Rows = 1,
        Gross = default(Extremes).With(row.Gross, row.Key.At),
        Axles = [.. row.Axles.Select(a => default(Extremes).With(a, row.Key.At))],
    };

    /// <summary>This and what comes after it as one.</summary>
    public LoadPoint With(LoadPoint later) => new()
    {
        From = From,
        To = later.To,
        Rows = Rows + later.Rows,
        Gross = Gross.With(later.Gross),
        Axles = [.. Axles.Zip(later.Axles, (a, b) => a.With(b))],
    };
}

/// <summary>What every axle was doing from a moment on.</summary>
internal readonly record struct ConfiguredAt(Moment At, Configuration Configuration);

/// <summary>What decides on limits from a moment on: how the axles stood, where, and of which parts there were figures to judge.</summary>
internal readonly record struct StoodAt(Moment At, Configuration Configuration, Place? Place, uint Axles, bool Gross)
{
    public static StoodAt Of(HistoryRow.Load row) => new(
        row.Key.At, row.Configuration, row.Place, row.Axles.Select((a, i) => a is null ? 0 : 1u << i).Aggregate(0u, (bits, bit) => bits | bit), row.Gross is not null);

    /// <summary>True where the other says the same, wherever it was.</summary>
    public bool IsLike(StoodAt other) => Configuration == other.Configuration && Axles == other.Axles && Gross == other.Gross;
}

/// <summary>A stretch of time in which the vehicles stayed the same and were not silent: one line to draw.</summary>
internal sealed record LoadStretch(ImmutableArray<LaneMember> Members, ImmutableArray<LoadPoint> Points, ImmutableArray<ConfiguredAt> Configurations)
{
    /// <summary>How it stood, from each moment on: with every change, and once for each place of the line.</summary>
    public ImmutableArray<StoodAt> Stood { get; init; } = [];

    public Moment From => Points[0].From;

    public Moment To => Points[^1].To;
}

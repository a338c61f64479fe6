using System.Collections.Immutable;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;

namespace AxleTelemetry.Service.Accounting;

/// <summary>Adds rows of the running account up.</summary>
/// <param name="Span">Periods that began in it.</param>
/// <param name="Fleet">Of this fleet only; <c>null</c> for all.</param>
/// <param name="Vehicle">Of units of this powered vehicle, or those that pulled this trailer; <c>null</c> for all.</param>
internal sealed record AccountReading((Moment From, Moment To) Span, string? Fleet, VehicleName? Vehicle)
{
    private const int Page = 500;

    // A period is a day at most, and is found by its beginning to its last change.
    private const long Day = 86_400_000;

    /// <summary>The most periods that are added; more are not looked at, and what was found says so.</summary>
    public int Most { get; init; } = int.MaxValue;

    /// <summary>Adds what one page after another holds.</summary>
    /// <param name="pages">Answers a query.</param>
    /// <param name="combinations">Vehicles as they were described; <c>null</c> where that cannot be told any more.</param>
    /// <param name="found">What was found before.</param>
    public AccountFound Read(Func<AcrossQuery, ImmutableArray<KeptHistory>> pages, Func<ImmutableArray<LaneMember>, Combination?> combinations, AccountFound found)
    {
        // A trailer's periods are in the histories of the units that pulled it.
        var query = new AcrossQuery(HistoryReading.KindOf(Domain.Histories.RowKind.Account), new SampleSpan(Span.From, new Moment(Math.Min(Span.To.UnixMilliseconds + Day, long.MaxValue / 2))))
        {
            Fleet = Fleet ?? Vehicle?.Fleet, NewestFirst = false, Limit = Page,
        };
        for (var page = pages(query); !page.IsEmpty; page = pages(query))
        {
            foreach (var kept in page)
            {
                if (HistoryReading.Row(kept.Row.Bytes.AsSpan()) is not HistoryRow.Account row || !IsWanted(row)) continue;
                if (found.Periods >= Most) return found with { MoreThanMost = true };
                found = found.With(row, combinations(row.Members));
            }

            query = query with { After = AcrossPlace.Of(page[^1]) };
        }

        return found;
    }

    private bool IsWanted(HistoryRow.Account row) =>
        row.Key.At >= Span.From && row.Key.At < Span.To && (Vehicle is not { } vehicle || row.Members.Any(m => m.Vehicle == vehicle));
}

/// <summary>What was found.</summary>
/// <param name="Book">The account.</param>
/// <param name="Periods">Periods in it.</param>
/// <param name="Unknown">Periods left out, as their vehicles cannot be told any more.</param>
/// <param name="First">When the first began.</param>
/// <param name="Last">Up to when the last was added.</param>
internal sealed record AccountFound(AccountBook Book, int Periods, int Unknown, Moment? First, Moment? Last)
{
    /// <summary>True where there was more than was to be added.</summary>
    public bool MoreThanMost { get; init; }

    /// <summary>Every axle's periods, by day, for the tyres that were on it.</summary>
    public ImmutableList<AxleDay> Days { get; init; } = [];

    public static AccountFound Nothing { get; } = new(AccountBook.Empty, 0, 0, null, null);

    public AccountFound With(HistoryRow.Account row, Combination? combination)
    {
        if (combination is null) return this with { Unknown = Unknown + 1 };
        return new AccountFound(
            Book.With([.. row.Members.Select(m => m.Vehicle)], combination, row.Unit, row.Axles), Periods + 1, Unknown,
            First is { } first && first < row.Key.At ? first : row.Key.At, Last is { } last && last > row.Touched ? last : row.Touched)
        {
            Days = Days.AddRange(combination.Axles.Where(a => a.Index < row.Axles.Length).Select(a => Day(row, combination.Vehicles[a.Body].Id, a))),
        };
    }

    private static AxleDay Day(HistoryRow.Account row, string vehicle, AxlePart part)
    {
        var tally = row.Axles[part.Index];
        var day = DateOnly.FromDateTime(DateTimeOffset.FromUnixTimeMilliseconds(row.Key.At.UnixMilliseconds).UtcDateTime);
        return new AxleDay(vehicle, part.Axle.Key, day, part.Axle.Tyres.Count, new TyreExposure(tally.GroundMetres, tally.LoadMetres, tally.Tread, tally.ScrubJoules));
    }
}

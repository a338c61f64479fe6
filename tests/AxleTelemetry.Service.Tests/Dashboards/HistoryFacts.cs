using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Places;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>What a history says, row by row, without the writer's points: what dashboards are held against.</summary>
internal sealed class HistoryFacts
{
    private readonly Dictionary<string, (Combination Combination, KnownLimits Limits)> _known = new(StringComparer.Ordinal);

    public HistoryFacts(IReadOnlyList<HistoryRow> rows)
    {
        Rows = rows;
        foreach (var row in rows)
            switch (row)
            {
                case HistoryRow.Load load: Add(load); break;
                case HistoryRow.Account account: Add(account); break;
                case HistoryRow.Episode episode: Episodes.Add(episode); break;
            }
    }

    public IReadOnlyList<HistoryRow> Rows { get; }

    public List<AxleFact> Axles { get; } = [];

    public List<GrossFact> Gross { get; } = [];

    public List<DayFact> Days { get; } = [];

    public List<HistoryRow.Episode> Episodes { get; } = [];

    /// <summary>What the writer makes of a row.</summary>
    public IEnumerable<SeriesPoint> Points(HistoryRow row) => new RowPoints(Of(row).Combination, Of(row).Limits).Of(row);

    /// <summary>Words for what an episode is about.</summary>
    public string About(HistoryRow.Episode row) => new SubjectWords(new PartNames(Of(row).Combination)).Of(row.Key.Finding);

    private void Add(HistoryRow.Load row)
    {
        var (combination, limits) = Of(row);
        if (row.Axles.Length != combination.Axles.Length) return;
        var found = limits.At(row);
        foreach (var axle in combination.Axles)
        {
            var raised = (row.Configuration.Raised & 1u << axle.Index) != 0;
            var unloaded = (row.Configuration.Unloaded & 1u << axle.Index) != 0;
            Axles.Add(new AxleFact(Name(row, combination, axle), row.Key.At, raised ? 0 : unloaded ? 1 : 2, raised ? default(Estimated) : row.Axles[axle.Index], found.Axles[axle.Index]));
        }

        if (row.Gross is { } gross) Gross.Add(new GrossFact(row.Key.Unit.Fleet, row.Key.Unit.Id, row.Key.At, gross, found.Gross));
    }

    private void Add(HistoryRow.Account row)
    {
        var combination = Of(row).Combination;
        foreach (var axle in combination.Axles) Days.Add(new DayFact(Name(row, combination, axle), row.Key.At, row.Axles[axle.Index]));
    }

    private static AxleName Name(HistoryRow row, Combination combination, AxlePart axle) => new(row.Key.Unit.Fleet, row.Key.Unit.Id, combination.Vehicles[axle.Body].Id, axle.Axle.Key);

    private (Combination Combination, KnownLimits Limits) Of(HistoryRow row)
    {
        var key = string.Join('/', row.Members.Select(m => m.Vehicle.Id));
        if (_known.TryGetValue(key, out var known)) return known;
        var combination = CombinationShelf.Make(row.Members, [RandomFleet.Configuration]) ?? throw new InvalidOperationException($"Nobody described {key}.");
        var fleet = RandomFleet.Configuration.Find(row.Key.Unit.Fleet)!;
        return _known[key] = (combination, new KnownLimits(combination, LaneLaw.ByPlace(combination, fleet.Book, fleet.Trip, CountryMap.Shipped, fleet.Permits)));
    }
}

/// <summary>Which axle.</summary>
internal sealed record AxleName(string Fleet, string Unit, string Vehicle, string Axle);

/// <summary>An axle at one moment; no load where none was given.</summary>
internal sealed record AxleFact(AxleName Name, Moment At, int Position, Estimated? Load, double? Limit);

/// <summary>The gross of a unit at one moment.</summary>
internal sealed record GrossFact(string Fleet, string Unit, Moment At, Estimated Gross, double? Limit);

/// <summary>A period of an axle.</summary>
internal sealed record DayFact(AxleName Name, Moment At, AxleTally Tally);

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Series;

/// <summary>From a row of history to points. Pure: the same row under the same description gives the same points.</summary>
internal sealed class RowPoints(Combination combination, KnownLimits limits)
{
    /// <summary>The points of a row; none for what does not go out.</summary>
    public IEnumerable<SeriesPoint> Of(HistoryRow row) => row switch
    {
        HistoryRow.Load load => Loads(load),
        HistoryRow.Episode episode => [Episode(episode)],
        HistoryRow.Account account => combination.Axles.Length == account.Axles.Length ? combination.Axles.Select(a => Day(account, a)) : [],
        _ => [],
    };

    private IEnumerable<SeriesPoint> Loads(HistoryRow.Load row)
    {
        if (row.Axles.Length != combination.Axles.Length) yield break;
        var found = limits.At(row);
        foreach (var axle in combination.Axles)
        {
            var place = new FieldValue.Whole(Place(row.Configuration[axle.Index]));
            yield return Point("lift", row, OfAxle(row, axle), (SeriesSchema.Position, place));
            // A raised axle carries nothing: that is known also where other figures are withheld.
            if ((row.Configuration[axle.Index] == AxleState.Raised ? default(Estimated) : row.Axles[axle.Index]) is { } load)
                yield return Point("axle_load", row, OfAxle(row, axle),
                    [.. Estimate("load_kg", load, found.Axles[axle.Index]), (SeriesSchema.Position, place), ("standing", new FieldValue.Text(JsonText.Word(row.Standing)))]);
        }

        if (row.Gross is { } gross)
            yield return Point("gross", row, OfUnit(row), [.. Estimate("gross_kg", gross, found.Gross), ("payload_kg", new FieldValue.Number(row.Payloads.Sum(p => p.Mean)))]);
    }

    private static long Place(AxleState state) => state switch
    {
        AxleState.Loaded => 2,
        AxleState.Unloaded => 1,
        AxleState.Raised => 0,
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "A state of an axle that nobody writes."),
    };

    private SeriesPoint Episode(HistoryRow.Episode row)
    {
        var limit = row.Subject as EpisodeSubject.Limit;
        return Point("episode", row, [.. OfUnit(row), (SeriesSchema.Finding, new AlertSubject(row.Key.Finding).ToString()), (SeriesSchema.Kind, JsonText.Word(row.Key.Finding.Kind))],
            ("level", new FieldValue.Text(JsonText.Word(row.Level))), ("reached", new FieldValue.Text(JsonText.Word(row.Reached))), ("is_open", new FieldValue.Flag(row.ClosedAt is null)),
            ("lasted_s", new FieldValue.Number(row.ClosedAt is { } closed ? closed.SecondsSince(row.Key.At) : 0)), ("excess_kg", new FieldValue.Number(limit?.Peak.Mean ?? 0)),
            ("limit_kg", new FieldValue.Number(limit?.Scale ?? 0)), ("about", new FieldValue.Text(new SubjectWords(new PartNames(combination)).Of(row.Key.Finding))));
    }

    private SeriesPoint Day(HistoryRow.Account row, AxlePart axle)
    {
        ref readonly var tally = ref row.Axles.AsSpan()[axle.Index];
        return Point("axle_day", row, OfAxle(row, axle),
            ("road_m", new FieldValue.Number(tally.GroundMetres)), ("known_m", new FieldValue.Number(tally.KnownMetres)), ("raised_m", new FieldValue.Number(tally.RaisedMetres)),
            ("load_kgm", new FieldValue.Number(tally.LoadMetres)), ("scrub_j", new FieldValue.Number(tally.ScrubJoules)), ("tread_mnm", new FieldValue.Number(tally.Tread)), ("high_s", new FieldValue.Number(tally.HighSeconds)),
            ("raises", new FieldValue.Number(tally.Raises)), ("lowers", new FieldValue.Number(tally.Lowers)));
    }

    private static (string, FieldValue)[] Estimate(string name, Estimated value, double? limit) =>
    [
        (name, new FieldValue.Number(value.Mean)), ("low_kg", new FieldValue.Number(value.Low)), ("high_kg", new FieldValue.Number(value.High)),
        ("limit_kg", new FieldValue.Number(limit ?? 0)), ("margin_kg", new FieldValue.Number(limit is { } most ? most - value.Mean : 0)),
    ];

    private ImmutableArray<(string, string)> OfAxle(HistoryRow row, AxlePart axle) => [.. OfUnit(row), (SeriesSchema.Vehicle, combination.Vehicles[axle.Body].Id), (SeriesSchema.Axle, axle.Axle.Key)];

    private static ImmutableArray<(string, string)> OfUnit(HistoryRow row) => [(SeriesSchema.Fleet, row.Key.Unit.Fleet), (SeriesSchema.Unit, row.Key.Unit.Id)];

    private static SeriesPoint Point(string measurement, HistoryRow row, ImmutableArray<(string, string)> tags, params ReadOnlySpan<(string Name, FieldValue Value)> fields) =>
        new(new PointIdentity(measurement, tags, row.Key.At), [.. fields, (SeriesSchema.Void, new FieldValue.Flag(false))]);
}

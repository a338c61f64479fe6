using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Register;
using nietras.SeparatedValues;

namespace AxleTelemetry.Service.Exporting;

/// <summary>Episodes as a table, one line each (RFC 4180, line breaks included), below a header that stands there without any as well. Masses in kg, times in UTC.</summary>
internal static class EpisodeCsv
{
    private static readonly string[] Names =
    [
        "fleet", "vehicle", "members", "kind", "about", "since", "opened_at", "closed_at", "level_reached",
        "limit_kg", "least_share", "limit_standing", "limit_source", "limit_edition", "limit_status", "limit_note",
        "load_kg", "peak_excess_kg", "peak_excess_low_kg", "peak_excess_high_kg", "peak_at",
        "band_by_mean", "band_by_lower_bound", "band_is_house_rule",
        "measured", "measured_unit", "lifts", "latitude_deg", "longitude_deg", "sentence",
    ];

    public static void Write(IEnumerable<EpisodeDocument> episodes, TextWriter output)
    {
        var usual = output.NewLine;
        output.NewLine = "\r\n";
        try
        {
            using var table = Sep.New(',').Writer(o => o with { Escape = true, DisableColCountCheck = false }).To(output, leaveOpen: true);
            table.Header.Add(Names);
            table.Header.Write();
            foreach (var episode in episodes) Write(episode, table);
        }
        finally
        {
            output.NewLine = usual;
        }
    }

    private static void Write(EpisodeDocument episode, SepWriter table)
    {
        using var row = table.NewRow();
        foreach (var (name, value) in Fields(episode)) row[name].Set(value);
    }

    private static IEnumerable<(string Name, string Value)> Fields(EpisodeDocument episode) =>
    [
        ("fleet", episode.Fleet),
        ("vehicle", episode.Vehicle),
        ("members", string.Join(' ', episode.Members.Select(m => m.Vehicle))),
        ("kind", episode.Kind),
        ("about", episode.About),
        ("since", Text(episode.Since)),
        ("opened_at", Text(episode.OpenedAt)),
        ("closed_at", Text(episode.ClosedAt)),
        ("level_reached", episode.Reached),
        .. Limit(episode.Limit),
        ("band_by_mean", episode.Band?.ByMean ?? ""),
        ("band_by_lower_bound", episode.Band?.ByLowerBound ?? ""),
        ("band_is_house_rule", episode.Band is { } band ? band.HouseRule ? "true" : "false" : ""),
        ("measured", Text(episode.Measured?.Value)),
        ("measured_unit", episode.Measured?.Unit ?? ""),
        ("lifts", episode.Lifts),
        ("latitude_deg", Text(episode.Position?.LatitudeDeg)),
        ("longitude_deg", Text(episode.Position?.LongitudeDeg)),
        ("sentence", episode.Sentence),
    ];

    private static IEnumerable<(string Name, string Value)> Limit(PassedDocument? limit) =>
    [
        ("limit_kg", Text(limit?.LimitKg)),
        ("least_share", Text(limit?.LeastShare)),
        ("limit_standing", limit?.Standing ?? ""),
        ("limit_source", limit?.Source.Place ?? ""),
        ("limit_edition", limit?.Source.Edition ?? ""),
        ("limit_status", limit?.Source.Status ?? ""),
        ("limit_note", limit?.Note ?? ""),
        ("load_kg", Text(limit?.LoadKg.Mean)),
        ("peak_excess_kg", Text(limit?.PeakExcessKg.Mean)),
        ("peak_excess_low_kg", Text(limit?.PeakExcessKg.Low)),
        ("peak_excess_high_kg", Text(limit?.PeakExcessKg.High)),
        ("peak_at", Text(limit?.PeakAt)),
    ];

    private static string Text(Moment? at) => at?.ToString() ?? "";

    private static string Text(double? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "";
}

using System.Globalization;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>Points as lines, every tag and field of them, from a real InfluxDB or from the journal: equal where they say the same.</summary>
internal static class InfluxLines
{
    /// <summary>What a query sees that filters what was taken back.</summary>
    public static async Task<List<string>> InAsync(InfluxServer server)
    {
        var there = new List<string>();
        foreach (var measurement in SeriesSchema.All) there.AddRange(await LinesAsync(server, measurement));
        there.Sort(StringComparer.Ordinal);
        return there;
    }

    public static List<string> Of(IEnumerable<SeriesPoint> points) => [.. points.Select(Line).Order(StringComparer.Ordinal)];

    private static async Task<IEnumerable<string>> LinesAsync(InfluxServer server, SeriesSchema.Measurement of)
    {
        var names = of.Tags.Concat(of.Fields.Select(f => f.Name)).ToList();
        var series = await server.QueryAsync($"SELECT {string.Join(", ", names.Select(n => $"\"{n}\""))} FROM \"{of.Name}\" WHERE \"void\" = false");
        return series.SelectMany(s => s.Rows).Select(r => $"{of.Name} {r[0].GetInt64()} {string.Join(' ', names.Zip(r.Skip(1), (n, v) => $"{n}={InfluxSeries.Cell(v)}"))}");
    }

    private static string Line(SeriesPoint point)
    {
        var of = SeriesSchema.All.Single(m => m.Name == point.Identity.Measurement);
        var fields = of.Fields.Select(f => (f.Name, Value: point.Fields.Single(p => p.Name == f.Name).Value));
        return string.Create(CultureInfo.InvariantCulture, $"{of.Name} {point.Identity.At.UnixMilliseconds} {string.Join(' ', [.. point.Identity.Tags.Select(t => $"{t.Name}={t.Value}"), .. fields.Select(f => $"{f.Name}={Cell(f.Value)}")])}");
    }

    private static string Cell(FieldValue value) => value switch
    {
        FieldValue.Number number => InfluxSeries.Cell(number.Value),
        FieldValue.Whole whole => InfluxSeries.Cell(whole.Value),
        FieldValue.Flag flag => flag.Value ? "true" : "false",
        FieldValue.Text text => text.Value,
        _ => throw new InvalidOperationException($"{value}"),
    };
}

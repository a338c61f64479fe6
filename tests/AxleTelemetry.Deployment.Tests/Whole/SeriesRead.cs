using System.Text.Json;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>What stands in a server that answers as the stand-in does: each writing of each field, by its tags and time.</summary>
internal static class SeriesRead
{
    public static async Task<ILookup<(string Tags, long At), double>> FieldAsync(HttpClient server, string measurement, string field)
    {
        var found = new List<((string, long) Key, double Value)>();
        var lines = await server.GetStringAsync(new Uri($"/api/v1/export?match[]={measurement}_{field}", UriKind.Relative), TestContext.Current.CancellationToken);
        foreach (var line in lines.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            using var series = JsonDocument.Parse(line);
            var tags = Tags(series.RootElement.GetProperty("metric").EnumerateObject().Where(l => l.Name is not ("__name__" or "db")).Select(l => (l.Name, l.Value.GetString()!)));
            found.AddRange(series.RootElement.GetProperty("timestamps").EnumerateArray().Zip(series.RootElement.GetProperty("values").EnumerateArray(), (t, v) => ((tags, t.GetInt64()), v.GetDouble())));
        }

        return found.ToLookup(f => f.Key, f => f.Value);
    }

    /// <summary>Tags in one line, whatever their order.</summary>
    public static string Tags(IEnumerable<(string Name, string Value)> tags) => string.Join(',', tags.OrderBy(t => t.Name, StringComparer.Ordinal).Select(t => $"{t.Name}={t.Value}"));
}

using System.Net.Http.Headers;
using System.Text.Json;

namespace AxleTelemetry.Deployment.Tests.Series;

/// <summary>Reads a field of a measurement back from a server: each value it has, by tags and time in milliseconds.</summary>
internal abstract class SeriesReading(HttpClient http) : IDisposable
{
    protected HttpClient Http => http;

    public abstract Task<ILookup<(string Tags, long At), double>> FieldAsync(string measurement, string field);

    public void Dispose() => http.Dispose();

    /// <summary>A server as it is asked: by InfluxQL where it is an InfluxDB, else as the stand-in is.</summary>
    public static async Task<SeriesReading> OfAsync(Uri address, string token, string database)
    {
        var http = new HttpClient { BaseAddress = address };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Token", token);
        var said = await http.GetStringAsync(new Uri("/health", UriKind.Relative), TestContext.Current.CancellationToken);
        return said.Contains("influxdb", StringComparison.Ordinal) ? new ByInfluxQl(http, database) : new OfStandIn(http);
    }

    /// <summary>Tags in one line, whatever their order.</summary>
    public static string Tags(IEnumerable<(string Name, string Value)> tags) => string.Join(',', tags.OrderBy(t => t.Name, StringComparer.Ordinal).Select(t => $"{t.Name}={t.Value}"));

    /// <summary>InfluxDB 1, 2 or 3, which write a point over.</summary>
    public sealed class ByInfluxQl(HttpClient http, string database) : SeriesReading(http)
    {
        public override async Task<ILookup<(string Tags, long At), double>> FieldAsync(string measurement, string field)
        {
            using var form = new FormUrlEncodedContent([KeyValuePair.Create("q", $"SELECT \"{field}\" FROM \"{measurement}\" GROUP BY *")]);
            using var answer = await Http.PostAsync(new Uri($"/query?db={database}&epoch=ms", UriKind.Relative), form, TestContext.Current.CancellationToken);
            var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            Assert.True(answer.IsSuccessStatusCode, text);
            using var read = JsonDocument.Parse(text);
            var found = new List<((string, long) Key, double Value)>();
            foreach (var series in read.RootElement.GetProperty("results")[0].TryGetProperty("series", out var all) ? all.EnumerateArray() : [])
            {
                var tags = Tags(series.GetProperty("tags").EnumerateObject().Select(t => (t.Name, t.Value.GetString()!)));
                found.AddRange(series.GetProperty("values").EnumerateArray().Select(row => ((tags, row[0].GetInt64()), Number(row[1]))));
            }

            return found.ToLookup(f => f.Key, f => f.Value);
        }

        private static double Number(JsonElement value) => value.ValueKind switch { JsonValueKind.True => 1, JsonValueKind.False => 0, _ => value.GetDouble() };
    }

    /// <summary>The stand-in, which keeps each writing of a point.</summary>
    public sealed class OfStandIn(HttpClient http) : SeriesReading(http)
    {
        public override async Task<ILookup<(string Tags, long At), double>> FieldAsync(string measurement, string field)
        {
            await Http.GetAsync(new Uri("/internal/force_flush", UriKind.Relative), TestContext.Current.CancellationToken);
            var found = new List<((string, long) Key, double Value)>();
            var lines = await Http.GetStringAsync(new Uri($"/api/v1/export?match[]={measurement}_{field}", UriKind.Relative), TestContext.Current.CancellationToken);
            foreach (var line in lines.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            {
                using var series = JsonDocument.Parse(line);
                var tags = Tags(series.RootElement.GetProperty("metric").EnumerateObject().Where(l => l.Name is not ("__name__" or "db")).Select(l => (l.Name, l.Value.GetString()!)));
                found.AddRange(series.RootElement.GetProperty("timestamps").EnumerateArray().Zip(series.RootElement.GetProperty("values").EnumerateArray(), (t, v) => ((tags, t.GetInt64()), v.GetDouble())));
            }

            return found.ToLookup(f => f.Key, f => f.Value);
        }
    }
}

using System.Globalization;
using System.Text.Json;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A real server behind the version 2 of InfluxDB's writing. It keeps every writing of a point, so what was corrected stands there in both forms.</summary>
public sealed class RealSeriesTests : IDisposable
{
    private const string Server = "/usr/bin/victoria-metrics";

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-real-series-");

    public void Dispose() => _data.Delete(recursive: true);

    [Fact]
    public async Task What_is_in_force_is_read_back_though_the_server_came_late_and_went_away_in_between()
    {
        if (!File.Exists(Server)) Assert.Skip("victoria-metrics is not installed.");
        var recording = RandomFleet.Recording(7);
        using var shard = new CarriedFleet(_data.FullName, recording).Open();
        var port = InfluxServer.FreePort();
        var client = new SeriesClient(new SeriesTarget(new Uri(FormattableString.Invariant($"http://127.0.0.1:{port}")), "fleet", "axles"), "a-token-that-is-not-asked-for");
        shard.Carry(client, TimeProvider.System);
        CarriedFleet.Send(shard, recording[..(recording.Length / 2)]);
        // Nobody is there yet: it is said, and nothing is lost.
        await Eventually.Holds(() => shard.Desk.Series()!.Trouble is not null, () => $"{shard.Desk.Series()}");
        var server = Start(port);
        await Eventually.Holds(() => shard.Desk.Series()!.Written > 500, () => $"{shard.Desk.Series()}");
        // What it has answered for lies in its memory for some seconds: a kill would lose it, as it would with any reader. It is told to end.
        await server.Signal("TERM");
        await server.Exit();
        await server.DisposeAsync();
        CarriedFleet.Send(shard, recording[(recording.Length / 2)..]);
        await using var again = Start(port);
        await CarriedFleet.Settled(shard);
        var points = await InForce.OfAsync(shard.Desk);
        await shard.StopAsync();
        using var http = new HttpClient { BaseAddress = new Uri(FormattableString.Invariant($"http://127.0.0.1:{port}")) };
        await http.GetAsync(new Uri("/internal/force_flush", UriKind.Relative), TestContext.Current.CancellationToken);
        foreach (var (measurement, field) in ((string, string)[])[("axle_load", "load_kg"), ("gross", "gross_kg"), ("lift", "position"), ("axle_day", "road_m"), ("episode", "excess_kg")])
        {
            var there = await ExportAsync(http, $"{measurement}_{field}");
            var expected = points.Where(p => p.Identity.Measurement == measurement).ToList();
            Assert.NotEmpty(expected);
            foreach (var point in expected)
            {
                var key = string.Join(',', point.Identity.Tags.OrderBy(t => t.Name, StringComparer.Ordinal).Select(t => $"{t.Name}={t.Value}"));
                var value = point.Fields.Single(f => f.Name == field).Value switch { FieldValue.Number n => n.Value, FieldValue.Whole w => w.Value, var other => throw new InvalidOperationException($"{other}") };
                Assert.Contains(there[(key, point.Identity.At.UnixMilliseconds)], v => Math.Abs(v - value) <= 1e-6 * Math.Max(1, Math.Abs(value)));
            }
        }
    }

    private RunningProgram Start(int port) => RunningProgram.Start(Server, $"-storageDataPath={Path.Combine(_data.FullName, "series")}",
        FormattableString.Invariant($"-httpListenAddr=127.0.0.1:{port}"), "-retentionPeriod=100y", "-loggerLevel=ERROR");

    private static async Task<ILookup<(string Tags, long At), double>> ExportAsync(HttpClient http, string name)
    {
        var found = new List<(string Tags, long At, double Value)>();
        var lines = await http.GetStringAsync(new Uri($"/api/v1/export?match[]={name}", UriKind.Relative), TestContext.Current.CancellationToken);
        foreach (var line in lines.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            using var series = JsonDocument.Parse(line);
            var tags = string.Join(',', series.RootElement.GetProperty("metric").EnumerateObject().Where(l => l.Name is not ("__name__" or "db")).OrderBy(l => l.Name, StringComparer.Ordinal).Select(l => $"{l.Name}={l.Value.GetString()}"));
            found.AddRange(series.RootElement.GetProperty("timestamps").EnumerateArray().Zip(series.RootElement.GetProperty("values").EnumerateArray(), (t, v) => (tags, t.GetInt64(), v.GetDouble())));
        }

        return found.ToLookup(f => (f.Tags, f.At), f => f.Value);
    }
}

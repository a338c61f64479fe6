using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A real InfluxDB 1 in a directory of its own: it answers InfluxQL. What is written to it by version 2 goes through <see cref="SecondVersion"/>.</summary>
internal sealed class InfluxServer : IAsyncDisposable
{
    public const string Database = "axletelemetry";

    private const string Program = "/usr/bin/influxd";

    private readonly RunningProgram _program;
    private readonly HttpClient _http;

    private InfluxServer(RunningProgram program, Uri address)
    {
        _program = program;
        Address = address;
        _http = new HttpClient { BaseAddress = address };
    }

    /// <summary>Where it answers.</summary>
    public Uri Address { get; }

    public static bool IsInstalled => File.Exists(Program);

    public static void SkipWhereMissing()
    {
        if (!IsInstalled) Assert.Skip("influxd is not installed (Debian's package influxdb).");
    }

    /// <summary>Starts it on what a directory holds, and waits until it answers.</summary>
    public static async Task<InfluxServer> StartAsync(string directory, int? port = null)
    {
        var (http, copies) = (port ?? FreePort(), FreePort());
        var file = Path.Combine(directory, "influxd.conf");
        await File.WriteAllTextAsync(file, InfluxSettings.Text(directory, http, copies));
        var server = new InfluxServer(RunningProgram.Start(Program, "-config", file), new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{http}")));
        await Eventually.Holds(() => server.Answers(), () => $"influxd does not answer: {string.Join(' ', server._program.Errors.All)}", TimeSpan.FromMilliseconds(50));
        await server.QueryAsync($"CREATE DATABASE {Database}");
        return server;
    }

    /// <summary>Series of an answer; fails where the server calls the query wrong.</summary>
    public async Task<List<InfluxSeries>> QueryAsync(string query, string database = Database)
    {
        using var form = new FormUrlEncodedContent([KeyValuePair.Create("q", query)]);
        using var answer = await _http.PostAsync(new Uri($"/query?db={database}&epoch=ms", UriKind.Relative), form, TestContext.Current.CancellationToken);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{query}: {text}");
        using var document = JsonDocument.Parse(text);
        var result = Assert.Single(document.RootElement.GetProperty("results").EnumerateArray());
        Assert.False(result.TryGetProperty("error", out var error), $"{query}: {error}");
        return result.TryGetProperty("series", out var series) ? [.. series.EnumerateArray().Select(InfluxSeries.Of)] : [];
    }

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _program.DisposeAsync();
    }

    public static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }

    private bool Answers()
    {
        Assert.False(_program.HasEnded, $"influxd ended: {string.Join(' ', _program.Errors.All)}");
        try
        {
            using var answer = _http.Send(new HttpRequestMessage(HttpMethod.Get, "/ping"));
            return answer.StatusCode == HttpStatusCode.NoContent;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }
}

using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>
/// Takes signed messages about alerts from a container, on every address of this machine. Every seventh is turned away once, as a receiver that restarts would, and has to come again.
/// </summary>
internal sealed class AlertReceiver : IAsyncDisposable
{
    private const string Begin = "whsec_";
    private const int TurnedAway = 7;

    private readonly byte[] _secret = RandomNumberGenerator.GetBytes(32);
    private readonly ConcurrentDictionary<string, bool> _seen = new(StringComparer.Ordinal);
    private readonly WebApplication _app;

    public AlertReceiver(int port)
    {
        Port = port;
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls(string.Create(CultureInfo.InvariantCulture, $"http://0.0.0.0:{port}"));
        _app = builder.Build();
        _app.MapPost("/alerts", TakeAsync);
    }

    public int Port { get; }

    /// <summary>As it stands in the file that the settings name.</summary>
    public string Secret => Begin + Convert.ToBase64String(_secret);

    /// <summary>What was taken: id and body, each as often as it came.</summary>
    public ConcurrentQueue<(string Id, string Body)> Taken { get; } = new();

    /// <summary>What was wrong with a message.</summary>
    public ConcurrentQueue<string> Faults { get; } = new();

    /// <summary>Messages that were turned away at first.</summary>
    public int Away => _seen.Values.Count(away => away);

    public Task Start() => _app.StartAsync(TestContext.Current.CancellationToken);

    public ValueTask DisposeAsync() => _app.DisposeAsync();

    private async Task<IResult> TakeAsync(HttpRequest request)
    {
        using var reader = new StreamReader(request.Body, Encoding.UTF8);
        var body = await reader.ReadToEndAsync();
        var (id, time) = (request.Headers["webhook-id"].ToString(), request.Headers["webhook-timestamp"].ToString());
        // Standard Webhooks 1.0.0: version, comma, base64 of HMAC-SHA256 over id, time and body with dots between.
        var signed = "v1," + Convert.ToBase64String(HMACSHA256.HashData(_secret, Encoding.UTF8.GetBytes($"{id}.{time}.{body}")));
        if (!request.Headers["webhook-signature"].ToString().Split(' ').Contains(signed)) Faults.Enqueue($"{id} is not signed by {signed}.");
        if (_seen.TryAdd(id, false) && _seen.Count % TurnedAway == 0)
        {
            _seen[id] = true;
            return Results.StatusCode(StatusCodes.Status503ServiceUnavailable);
        }

        Taken.Enqueue((id, body));
        return Results.NoContent();
    }
}

using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>Takes version 2 of InfluxDB's writing and hands it to version 1, bytes as they are: what the writer says and what the database answers both pass through unread.</summary>
internal sealed class SecondVersion : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly HttpClient _first;

    private SecondVersion(WebApplication app, HttpClient first) => (_app, _first) = (app, first);

    /// <summary>Where it listens.</summary>
    public Uri Address => new(_app.Urls.Single());

    public static async Task<SecondVersion> StartAsync(Uri first, int port = 0)
    {
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().UseUrls(FormattableString.Invariant($"http://127.0.0.1:{port}"));
        var app = builder.Build();
        var proxy = new SecondVersion(app, new HttpClient { BaseAddress = first });
        app.Run(proxy.HandAsync);
        await app.StartAsync();
        return proxy;
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
        _first.Dispose();
    }

    private async Task HandAsync(HttpContext call)
    {
        if ((call.Request.Method, call.Request.Path.Value) != ("POST", "/api/v2/write")) throw new InvalidOperationException($"Nobody writes by {call.Request.Method} {call.Request.Path}.");
        using var body = new StreamContent(call.Request.Body);
        if (call.Request.Headers.ContentEncoding.ToString() is { Length: > 0 } encoding) body.Headers.ContentEncoding.Add(encoding);
        var to = $"/write?db={Uri.EscapeDataString(call.Request.Query["bucket"]!)}&precision={call.Request.Query["precision"]}";
        using var answer = await _first.PostAsync(new Uri(to, UriKind.Relative), body, call.RequestAborted);
        call.Response.StatusCode = (int)answer.StatusCode;
        if (answer.StatusCode != System.Net.HttpStatusCode.NoContent) await answer.Content.CopyToAsync(call.Response.Body, call.RequestAborted);
    }
}

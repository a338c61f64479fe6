using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Takes webhooks over HTTP, as an office program would, and keeps all that came.</summary>
internal sealed class WebhookReceiver : IAsyncDisposable
{
    /// <summary>The secret of the reference libraries' example.</summary>
    public const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    private readonly WebApplication _app;
    private readonly ConcurrentQueue<Post> _posts = [];

    private WebhookReceiver(WebApplication app) => _app = app;

    /// <summary>All that came, whatever was answered.</summary>
    public ImmutableArray<Post> Posts => [.. _posts];

    /// <summary>Those that it took.</summary>
    public ImmutableArray<Post> Taken => [.. _posts.Where(p => p.Answer < 300)];

    /// <summary>Where it listens.</summary>
    public string Url => $"{_app.Urls.Single()}/alerts";

    /// <param name="answer">The status of each; 0 cuts the connection.</param>
    public static async Task<WebhookReceiver> StartAsync(Func<Post, int>? answer = null)
    {
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().UseUrls("http://127.0.0.1:0");
        var receiver = new WebhookReceiver(builder.Build());
        receiver._app.Run(http => receiver.TakeAsync(http, answer ?? (_ => 204)));
        await receiver._app.StartAsync(TestContext.Current.CancellationToken);
        return receiver;
    }

    public async ValueTask DisposeAsync() => await _app.DisposeAsync();

    private async Task TakeAsync(HttpContext http, Func<Post, int> answer)
    {
        using var body = new MemoryStream();
        await http.Request.Body.CopyToAsync(body);
        string Header(string name) => http.Request.Headers[name].ToString();
        var post = new Post(Header("webhook-id"), Header("webhook-timestamp"), Header("webhook-signature"), Encoding.UTF8.GetString(body.ToArray())) { Path = http.Request.Path };
        post = post with { Answer = answer(post) };
        if (post.Answer == 0)
        {
            _posts.Enqueue(post with { Answer = 503 });
            http.Abort();
            return;
        }

        _posts.Enqueue(post);
        http.Response.StatusCode = post.Answer;
        if (post.Answer is >= 300 and < 400) http.Response.Headers.Location = "/elsewhere";
        if (post.Answer == 429) http.Response.Headers.RetryAfter = "7";
    }

    /// <summary>One call.</summary>
    internal sealed record Post(string Id, string Timestamp, string Signature, string Body)
    {
        public int Answer { get; init; }

        public string Path { get; init; } = "";

        /// <summary>True where the signature is that of id, time and body, reckoned as the standard says and not as we do.</summary>
        public bool IsSigned
        {
            get
            {
                using var mac = new HMACSHA256(Convert.FromBase64String(Secret["whsec_".Length..]));
                return Signature == "v1," + Convert.ToBase64String(mac.ComputeHash(Encoding.UTF8.GetBytes(Id + "." + Timestamp + "." + Body)));
            }
        }
    }
}

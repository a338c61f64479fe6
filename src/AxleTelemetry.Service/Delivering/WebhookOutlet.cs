using System.Globalization;
using System.Net.Http.Headers;
using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Delivering;

/// <summary>Posts signed JSON to an address, with the headers of Standard Webhooks. Does not follow where it is sent on to: whoever answers there was not named.</summary>
internal sealed class WebhookOutlet : IOutlet
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20), Connecting = TimeSpan.FromSeconds(10), Pooled = TimeSpan.FromMinutes(5);

    private readonly Uri _url;
    private readonly WebhookSecret _secret;
    private readonly Language _language;
    private readonly TimeProvider _clock;
    private readonly HttpClient _client;

    public WebhookOutlet(OutletSettings.Webhook to, WebhookSecret secret, Language language, TimeProvider clock)
    {
        (_url, _secret, _language, _clock) = (to.Url, secret, language, clock);
        // Names are looked up again now and then: a receiver may move.
        _client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, ConnectTimeout = Connecting, PooledConnectionLifetime = Pooled }) { Timeout = Longest };
    }

    public async Task<Handing> SendAsync(Outgoing message, CancellationToken cancel)
    {
        var body = AlertMessage.Write(message, _language);
        var seconds = _clock.GetUtcNow().ToUnixTimeSeconds();
        using var request = new HttpRequestMessage(HttpMethod.Post, _url) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        request.Headers.Add("webhook-id", message.Parcel.Message);
        request.Headers.Add("webhook-timestamp", seconds.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", _secret.Sign(message.Parcel.Message, seconds, body));
        request.Headers.UserAgent.Add(new ProductInfoHeaderValue("axletelemetry", "1"));
        try
        {
            // What it answers beyond the status is nobody's business here, and may be without end.
            using var answer = await _client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancel);
            return Of(answer);
        }
        catch (Exception failed) when (failed is HttpRequestException or IOException || failed is OperationCanceledException && !cancel.IsCancellationRequested)
        {
            return new Handing.Away(failed is OperationCanceledException ? FormattableString.Invariant($"No answer within {Longest.TotalSeconds:0} s.") : failed.Message, null);
        }
    }

    public void Dispose() => _client.Dispose();

    private Handing Of(HttpResponseMessage answer)
    {
        var status = FormattableString.Invariant($"It answers {(int)answer.StatusCode} {answer.ReasonPhrase}").TrimEnd();
        return (int)answer.StatusCode switch
        {
            >= 200 and < 300 => new Handing.Taken(),
            >= 300 and < 400 => new Handing.Refused($"{status} and sends on to another address, which is not followed. Set that one."),
            // These are of the message, or for ever. Others that blame the sender come as well from a receiver that is being set up or moved.
            400 or 410 or 413 or 415 or 422 => new Handing.Refused(status + "."),
            _ => new Handing.Away(status + ".", After(answer)),
        };
    }

    private TimeSpan? After(HttpResponseMessage answer) => answer.Headers.RetryAfter switch
    {
        { Delta: { } pause } => pause,
        { Date: { } at } => at - _clock.GetUtcNow() is { } pause && pause > TimeSpan.Zero ? pause : null,
        _ => null,
    };
}

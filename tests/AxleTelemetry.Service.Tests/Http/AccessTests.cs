using System.Net;
using System.Net.Http.Headers;
using System.Text;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>Who may ask.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class AccessTests(ServedFleet fleet)
{
    [Fact]
    public async Task Without_sign_in_or_token_nothing_is_shown_but_life_and_the_door()
    {
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = fleet.Client.BaseAddress };
        foreach (var open in (string[])["/health/live", "/sign-in", "/one-time", "/_content/AxleTelemetry.Web/people.css"]) Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, open));
        foreach (var shut in (string[])["/health", "/health/ready", "/metrics", "/openapi/v1.json", "/api/v1/vehicles", "/api/v1/alerts", "/api/v1/events", "/elsewhere", "/", "/now", "/_framework/blazor.web.js", "/_content/AxleTelemetry.Web/map.js", "/set-up"])
        {
            Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(client, shut));
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", "wrong");
            Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(client, shut));
            client.DefaultRequestHeaders.Authorization = null;
        }

        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", ServedFleet.Token);
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/api/v1/vehicles"));
    }

    [Fact]
    public void Others_are_never_served_a_demonstration() => Assert.Throws<InvalidOperationException>(() =>
        HttpHost.Build(fleet.Configuration, new ListenAddress(IPAddress.Any, 0), new Desks([]), (TimeProvider.System, _ => { }), isDemonstration: true));

    [Theory]
    [InlineData("localhost", HttpStatusCode.OK)]
    [InlineData("127.0.0.1:8080", HttpStatusCode.OK)]
    [InlineData("[::1]:8080", HttpStatusCode.OK)]
    [InlineData("elsewhere.example", HttpStatusCode.MisdirectedRequest)]
    [InlineData("localhost.elsewhere.example", HttpStatusCode.MisdirectedRequest)]
    public async Task Only_names_of_this_machine_are_answered_to(string host, HttpStatusCode status)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/health/live") { Headers = { Host = host } };
        using var answer = await fleet.Client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(status, answer.StatusCode);
    }

    [Theory]
    [InlineData("application/json", "http://elsewhere.example", HttpStatusCode.Forbidden)]
    [InlineData("application/json", "null", HttpStatusCode.Forbidden)]
    [InlineData("text/plain", null, HttpStatusCode.UnsupportedMediaType)]
    [InlineData("application/json", null, HttpStatusCode.NotFound)]
    public async Task A_page_of_another_origin_changes_nothing(string type, string? origin, HttpStatusCode status)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/alerts/north/X/VehicleSilent/1/acknowledge");
        request.Content = new StringContent("{}", Encoding.UTF8, type);
        if (origin is not null) request.Headers.Add("Origin", origin);
        using var answer = await fleet.Client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(status, answer.StatusCode);
    }

    [Fact]
    public async Task Every_answer_forbids_scripts_of_others_and_framing()
    {
        foreach (var address in (string[])["/now", "/sign-in", "/api/v1/vehicles", "/nowhere"])
        {
            using var answer = await fleet.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
            var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'; script-src 'self';", policy);
            Assert.DoesNotContain("unsafe", policy.Replace("style-src-attr 'unsafe-inline'", "", StringComparison.Ordinal));
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        }
    }

    private static async Task<HttpStatusCode> StatusAsync(HttpClient client, string address)
    {
        using var answer = await client.GetAsync(new Uri(address, UriKind.Relative), HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        return answer.StatusCode;
    }
}

using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Web.People;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>Who may ask what: every endpoint there is, by nobody, by each role, by the token of the settings.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class RoleTests(ServedFleet fleet) : IAsyncLifetime
{
    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-people-");
    private WebApplication? _app;
    private HttpClient _client = new();

    public async ValueTask InitializeAsync()
    {
        (_app, var client) = await fleet.ServeAsync(fleet.Configuration with { DataDirectory = _data.FullName, ApiToken = new Secret("right") }, asksWho: true);
        _client.Dispose();
        _client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = client.BaseAddress };
        client.Dispose();
    }

    [Fact]
    public async Task Every_endpoint_is_shut_to_nobody_but_life_the_files_of_pages_and_signing_in()
    {
        var open = new List<string>();
        foreach (var (method, path) in Endpoints())
        {
            var status = await StatusAsync(method, path, null);
            if (status is HttpStatusCode.Unauthorized or HttpStatusCode.Found) continue;
            open.Add($"{method} {path}");
        }

        Assert.Equal(["GET /first", "GET /health/live", "GET /invited", "GET /sign-in", "POST /first", "POST /invited", "POST /sign-in"], open.Where(o => !o.Contains("/_content/") && !o.Contains("/_framework/") && !o.Contains(".styles.")).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Every_endpoint_opens_to_the_roles_that_it_is_for_and_to_no_other()
    {
        var tokens = new Dictionary<string, string>();
        foreach (var role in Roles.All) tokens[role] = await _app!.Services.GetRequiredService<ProgramTokens>().MakeAsync($"test {role}", role, "test");
        foreach (var (method, path) in Endpoints().Where(e => !e.Path.StartsWith("/_", StringComparison.Ordinal)))
            foreach (var role in Roles.All)
            {
                var status = await StatusAsync(method, path, tokens[role]);
                var may = RolesOf(method, path).Contains(role);
                Assert.True(may == status is not (HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized), $"{role} at {method} {path}: {status}");
            }
    }

    [Fact]
    public async Task The_token_of_the_settings_opens_everything_and_a_wrong_one_nothing()
    {
        foreach (var (method, path) in Endpoints().Where(e => e.Path.StartsWith("/api", StringComparison.Ordinal)))
        {
            Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(method, path, "wrong"));
            Assert.NotInRange((int)await StatusAsync(method, path, "right"), 401, 403);
        }
    }

    [Fact]
    public async Task A_token_that_is_revoked_opens_nothing()
    {
        var tokens = _app!.Services.GetRequiredService<ProgramTokens>();
        var token = await tokens.MakeAsync("gone", Roles.Viewer, "test");
        Assert.Equal(HttpStatusCode.OK, await StatusAsync("GET", "/api/v1/alerts", token));
        await tokens.RevokeAsync((await tokens.FindAsync(token))!.Id);
        Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync("GET", "/api/v1/alerts", token));
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        if (_app is not null) await _app.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        _data.Delete(recursive: true);
    }

    private static IEnumerable<string> RolesOf(string method, string path) => (method, path) switch
    {
        ("POST", _) when path.EndsWith("/resume", StringComparison.Ordinal) => [Roles.Administrator],
        ("POST", _) when path.StartsWith("/api/v1/alerts", StringComparison.Ordinal) => [Roles.Controller, Roles.Administrator],
        (_, "/set-up") => [Roles.Administrator],
        _ => Roles.All,
    };

    // What a pattern leaves open is filled with names that nobody has: who is let in finds nothing.
    private IEnumerable<(string Method, string Path)> Endpoints() => _app!.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        .Where(e => !e.RoutePattern.RawText!.Contains("{*", StringComparison.Ordinal))
        .SelectMany(e => (e.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]).Where(m => m is "GET" or "POST").Select(m => (m, "/" + Regex.Replace(e.RoutePattern.RawText!, "{[^}]+}", "x").Trim('/'))))
        .Where(e => e.Item2 != "/api/v1/events" && !e.Item2.StartsWith("/_blazor", StringComparison.Ordinal)).Distinct();

    private async Task<HttpStatusCode> StatusAsync(string method, string path, string? token)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (token is not null) request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        if (method == "POST") request.Content = new StringContent("{}", Encoding.UTF8, "application/json");
        using var answer = await _client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        return answer.StatusCode;
    }
}

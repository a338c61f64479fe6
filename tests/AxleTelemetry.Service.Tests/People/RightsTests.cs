using System.Net;
using System.Text;
using AxleTelemetry.Web.People;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.StaticAssets;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>
/// Every address with every role. What may be is written here once more, by hand: an address that is new, or that asks for another right than before,
/// fails until somebody has said here what is right.
/// </summary>
public sealed class RightsTests
{
    private const string Open = "open", Any = "viewer controller maintenance compliance administrator", Raw = "controller maintenance compliance administrator", Acting = "controller administrator",
        Repairing = "maintenance administrator", Setting = "administrator", NoFile = "nobody has said";

    private const string Alert = "/api/v1/alerts/{fleet}/{vehicle}/{subject}/{since}";

    private static readonly Dictionary<string, string> May = new()
    {
        ["GET /health/live"] = Open, ["GET /health"] = Any, ["GET /health/ready"] = Any, ["GET /metrics"] = Any, ["GET /openapi/{documentName}.json"] = Any,
        ["GET /api/v1/vehicles"] = Any, ["GET /api/v1/vehicles/{fleet}/{vehicle}"] = Any, ["GET /api/v1/vehicles/{fleet}/{vehicle}/plan"] = Any, ["GET /api/v1/vehicles/{fleet}/{vehicle}/plan.svg"] = Any,
        ["GET /api/v1/vehicles/{fleet}/{vehicle}/loads"] = Any, ["GET /api/v1/vehicles/{fleet}/{vehicle}/messages"] = Raw, ["POST /api/v1/vehicles/{fleet}/{vehicle}/resume"] = Repairing,
        ["GET /api/v1/alerts"] = Any, ["GET " + Alert] = Any, [$"POST {Alert}/acknowledge"] = Acting, [$"POST {Alert}/shelve"] = Acting, [$"POST {Alert}/unshelve"] = Acting, [$"POST {Alert}/state-done"] = Acting,
        [$"POST {Alert}/take-out-of-service"] = Acting, [$"POST {Alert}/put-back"] = Acting,
        ["GET /api/v1/episodes"] = Any, ["GET /api/v1/account"] = Any, ["GET /api/v1/refusals"] = Raw, ["GET /api/v1/deliveries"] = Any, ["POST /api/v1/deliveries/{number:long}/send-again"] = Acting, ["GET /api/v1/events"] = Any,
        ["GET /api/v1/people/events"] = Setting, ["GET /api/v1/people/accesses"] = Setting,
        ["GET /"] = Any, ["GET /now"] = Any, ["GET /vehicles"] = Any, ["GET /vehicle/{Fleet}/{Id}"] = Any, ["GET /planner"] = Any, ["GET /register"] = Any, ["GET /register.csv"] = Any, ["GET /register.json"] = Any, ["GET /register/sheet"] = Any, ["GET /vehicles.csv"] = Any, ["GET /not-found"] = Any, ["GET /{*path:nonfile}"] = Any, ["GET /{**path:file}"] = NoFile,
        ["GET /sign-in"] = Open, ["GET /one-time"] = Open, ["GET /not-allowed"] = Open, ["GET /password"] = Any, ["POST /sign-out"] = Any,
        ["GET /set-up"] = Setting, ["GET /set-up/people"] = Setting, ["GET /set-up/events"] = Setting, ["GET /set-up/accesses"] = Setting,
        // The living connection of a page.
        ["POST /_blazor/negotiate"] = Any, ["GET /_blazor"] = Any, ["GET /_blazor/disconnect/"] = Any, ["GET /_blazor/initializers/"] = Any, ["GET /_framework/opaque-redirect"] = Any,
    };

    [Fact]
    public async Task Every_address_is_in_the_table_and_asks_for_what_it_says()
    {
        await using var door = await ServedDoor.OpenAsync();
        var there = Addresses(door.App).Where(a => !a.IsFile).ToDictionary(a => a.Key, a => a.Roles);
        Assert.Equal(Lines(May), Lines(there));

        static string Lines(Dictionary<string, string> table) => string.Join('\n', table.Select(a => $"{a.Key}: {a.Value}").Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Of_the_files_only_those_of_the_door_are_open()
    {
        await using var door = await ServedDoor.OpenAsync();
        var files = Addresses(door.App).Where(a => a.IsFile).ToList();
        Assert.NotEmpty(files);
        Assert.All(files, f => Assert.Equal(IsOfDoor(f.Path) ? Open : Any, f.Roles));
        Assert.Contains(files, f => IsOfDoor(f.Path));
    }

    [Fact]
    public async Task Every_address_answers_every_role_by_the_table()
    {
        await using var door = await ServedDoor.OpenAsync();
        var wrong = new List<string>();
        using var nobody = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = door.Address };
        foreach (var address in May.Keys) await AskAsync(nobody, "", address);
        foreach (var role in Roles.All)
        {
            var (program, _) = await door.ProgramAsync(role);
            using var __ = program;
            foreach (var address in May.Keys) await AskAsync(program, role, address);
        }

        Assert.Empty(wrong);

        async Task AskAsync(HttpClient client, string role, string address)
        {
            using var request = Request(address);
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
            // The page that tells of it is itself a refusal.
            var isRefused = answer.StatusCode is HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden && address != "GET /not-allowed";
            // Routing's own word that there is no such file is closed to strangers by the rule for what says nothing.
            var may = May[address] == Open || May[address].Split(' ').Contains(role) || May[address] == NoFile && role.Length > 0 && answer.StatusCode == HttpStatusCode.NotFound;
            if (isRefused == may || isRefused && answer.StatusCode != (role.Length == 0 ? HttpStatusCode.Unauthorized : HttpStatusCode.Forbidden))
                wrong.Add($"{address} of '{role}': {(int)answer.StatusCode}");
        }
    }

    private static HttpRequestMessage Request(string address)
    {
        var (method, path) = (address.Split(' ')[0], address.Split(' ')[1]);
        foreach (var (part, value) in ((string, string)[])[("{documentName}", "v1"), ("{fleet}", "north"), ("{Fleet}", "north"), ("{vehicle}", "T-1"), ("{Id}", "T-1"), ("{subject}", "VehicleSilent"), ("{since}", "1"), ("{number:long}", "1"), ("{*path:nonfile}", "nowhere"), ("{**path:file}", "nowhere.js")])
            path = path.Replace(part, value, StringComparison.Ordinal);
        var request = new HttpRequestMessage(new HttpMethod(method), new Uri(path, UriKind.Relative));
        if (method == "POST") request.Content = path.StartsWith("/api", StringComparison.Ordinal) ? new StringContent("{}", Encoding.UTF8, "application/json") : new FormUrlEncodedContent([]);
        return request;
    }

    private static IEnumerable<(string Key, string Path, string Roles, bool IsFile)> Addresses(WebApplication app) =>
        from endpoint in ((IEndpointRouteBuilder)app).DataSources.SelectMany(s => s.Endpoints).OfType<RouteEndpoint>()
        let methods = endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? []
        let path = "/" + endpoint.RoutePattern.RawText!.TrimStart('/')
        let method = methods.Count == 0 ? path.EndsWith("negotiate", StringComparison.Ordinal) ? "POST" : "GET" : methods[0]
        group endpoint by (Method: method, Path: path) into same
        select ($"{same.Key.Method} {same.Key.Path}", same.Key.Path, string.Join(" | ", same.Select(RolesOf).Distinct()), same.All(e => e.Metadata.GetMetadata<StaticAssetDescriptor>() is not null));

    private static string RolesOf(Endpoint endpoint)
    {
        if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null) return Open;
        // All of several must be met.
        var needed = endpoint.Metadata.OfType<IAuthorizeData>().Select(a => Enum.TryParse<Right>(a.Policy, out var right) ? Rights.RolesWith(right) : []).ToList();
        return needed.Count == 0 ? "nobody has said" : string.Join(' ', Roles.All.Where(role => needed.TrueForAll(n => n.Contains(role))));
    }

    private static bool IsOfDoor(string path) => ((string[])["tokens", "frame", "people"]).Any(f => path.StartsWith($"/_content/AxleTelemetry.Web/{f}.", StringComparison.Ordinal) && path.Contains(".css", StringComparison.Ordinal));
}

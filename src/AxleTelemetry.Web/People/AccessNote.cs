using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace AxleTelemetry.Web.People;

/// <summary>Notes who asks for what is known of vehicles. Positions, lift acts and times are personal data wherever they stand, so every such address counts.</summary>
internal sealed class AccessNote(RequestDelegate next, IAccessLog log)
{
    private static readonly string[] Personal = [nameof(Right.Look), nameof(Right.ReadRaw)];

    public async Task InvokeAsync(HttpContext http)
    {
        if (http.GetEndpoint() is RouteEndpoint endpoint && IsPersonal(endpoint) && http.User.Identity is { IsAuthenticated: true, Name: { } who })
            await log.NoteAsync(who, $"/{endpoint.RoutePattern.RawText?.TrimStart('/')}", Subject(http, endpoint), http.RequestAborted);
        await next(http);
    }

    private static bool IsPersonal(RouteEndpoint endpoint) =>
        endpoint.Metadata.OfType<IAuthorizeData>().Any(a => Personal.Contains(a.Policy))
        && (endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is { Type: var page } ? page.Namespace != typeof(AccessNote).Namespace : IsData(endpoint));

    private static bool IsData(RouteEndpoint endpoint) =>
        endpoint.Metadata.GetMetadata<PersonalFile>() is not null || endpoint.RoutePattern.RawText?.TrimStart('/').StartsWith("api/", StringComparison.Ordinal) is true;

    private static string Subject(HttpContext http, RouteEndpoint endpoint)
    {
        var named = endpoint.RoutePattern.Parameters.Select(p => http.Request.RouteValues[p.Name] as string).OfType<string>().Take(2).ToArray();
        if (named.Length > 0) return string.Join('/', named);
        return string.Join('/', ((string[])["fleet", "vehicle"]).Select(n => http.Request.Query[n].ToString()).Where(v => v.Length > 0));
    }
}

/// <summary>Stands at an address outside the interface for programs that gives what is known of vehicles as a file.</summary>
internal sealed class PersonalFile;

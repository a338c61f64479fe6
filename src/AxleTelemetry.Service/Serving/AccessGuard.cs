using System.Text;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Serving;

/// <summary>
/// What is taken from whom, before anybody is asked who he is. On a loopback address the Host header must name this machine, so that a page from
/// elsewhere cannot have its own name pointed at us. What changes something must not come from a page of another origin, and for a program it must be JSON.
/// </summary>
internal sealed class AccessGuard(ListenAddress listen, RequestDelegate next)
{
    private const string Scheme = "Bearer ";
    private static readonly string[] Ours = ["localhost", "127.0.0.1", "[::1]", "::1"];

    public Task InvokeAsync(HttpContext http)
    {
        var request = http.Request;
        if (listen.IsLoopback && !IsOurs(request.Host)) return Refuse(http, StatusCodes.Status421MisdirectedRequest, "This address serves localhost, 127.0.0.1 and [::1] only.");
        if ((!IsRead(request) || IsCircuit(request.Path)) && IsFromElsewhere(request)) return Refuse(http, StatusCodes.Status403Forbidden, "A page of another origin may change nothing here.");
        if (!IsRead(request) && PeopleSetup.IsForPrograms(request.Path) && !request.HasJsonContentType()) return Refuse(http, StatusCodes.Status415UnsupportedMediaType, "Content-Type: application/json is needed.");
        return next(http);
    }

    /// <summary>True for the token, compared in a time that does not tell how much of it was right.</summary>
    public static bool Matches(string header, Secret token) =>
        header.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase) && token.Matches(Encoding.UTF8.GetBytes(header[Scheme.Length..].Trim()));

    private static bool IsOurs(HostString host) => Ours.Contains(host.Host, StringComparer.OrdinalIgnoreCase);

    private static bool IsRead(HttpRequest request) => HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);

    // The live connection of a page: opened by a read, and yet it can act.
    private static bool IsCircuit(PathString path) => path.StartsWithSegments("/_blazor");

    private static bool IsFromElsewhere(HttpRequest request)
    {
        var origin = request.Headers.Origin.ToString();
        if (origin.Length > 0) return !Uri.TryCreate(origin, UriKind.Absolute, out var from) || !string.Equals(from.Authority, request.Host.Value, StringComparison.OrdinalIgnoreCase);
        return request.Headers["Sec-Fetch-Site"].ToString() is "cross-site" or "same-site";
    }

    private static Task Refuse(HttpContext http, int status, string why) => Problem.Of(status, "The request is not taken.", why).ExecuteAsync(http);
}

using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Serving;

/// <summary>
/// What is refused before it is asked who asks. On a loopback address the Host header must name this machine, so that a page from elsewhere cannot
/// have its own name pointed at us. What changes something must not come from a page of another origin; programs send it as JSON, pages as a form.
/// </summary>
internal sealed class AccessGuard(HttpSettings settings, RequestDelegate next)
{
    private static readonly string[] Ours = ["localhost", "127.0.0.1", "[::1]", "::1"];

    public Task InvokeAsync(HttpContext http)
    {
        var request = http.Request;
        if (settings.Listen.IsLoopback && !IsOurs(request.Host) && request.Host.Value != settings.PublicAddress?.Authority) return Refuse(http, StatusCodes.Status421MisdirectedRequest, "This address serves localhost, 127.0.0.1 and [::1] only.");
        if ((!IsRead(request) || IsCircuit(request.Path)) && IsFromElsewhere(request)) return Refuse(http, StatusCodes.Status403Forbidden, "A page of another origin may change nothing here.");
        if (IsRead(request) || IsCircuit(request.Path)) return next(http);
        if (ProgramAddresses.Has(request.Path) ? request.HasJsonContentType() : request.HasFormContentType) return next(http);
        return Refuse(http, StatusCodes.Status415UnsupportedMediaType, "Content-Type: application/json is needed; for a page's form application/x-www-form-urlencoded.");
    }

    public static bool IsOurs(HostString host) => Ours.Contains(host.Host, StringComparer.OrdinalIgnoreCase);

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

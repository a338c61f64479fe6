using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Serving;

/// <summary>Headers of every answer: nothing from other hosts but the pictures of a map that the settings name, no framing, no guessing of types, nothing kept in a cache.</summary>
internal sealed class SecurityHeaders(string? mapOrigin, RequestDelegate next)
{
    private const string Policy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; frame-ancestors 'none'; ";

    // Pages place what they draw by attributes of style; of scripts nothing is allowed but our own files.
    private readonly string _forPages = Policy.Replace("img-src 'self' data:", $"img-src 'self' data:{(mapOrigin is null ? "" : " " + mapOrigin)}", StringComparison.Ordinal)
        + "style-src-attr 'unsafe-inline'; font-src 'self'; base-uri 'self'; form-action 'self'";

    private const string ForPrograms = Policy + "base-uri 'none'; form-action 'none'";

    public Task InvokeAsync(HttpContext http)
    {
        var headers = http.Response.Headers;
        headers.ContentSecurityPolicy = ProgramAddresses.Has(http.Request.Path) ? ForPrograms : _forPages;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        // Not 'no-referrer': a browser then says of our own forms that they come from nowhere.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers.CacheControl = "no-cache, no-store";
        return next(http);
    }
}

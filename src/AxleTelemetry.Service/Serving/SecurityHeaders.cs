namespace AxleTelemetry.Service.Serving;

/// <summary>Headers of every answer: nothing from other hosts, no framing, no guessing of types, nothing kept in a cache.</summary>
internal sealed class SecurityHeaders(RequestDelegate next)
{
    private const string Policy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; "
        + "base-uri 'none'; frame-ancestors 'none'; form-action 'none'";

    public Task InvokeAsync(HttpContext http)
    {
        var headers = http.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers.CacheControl = "no-store";
        return next(http);
    }
}

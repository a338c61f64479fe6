namespace AxleTelemetry.Service.Serving;

/// <summary>
/// Behind something that speaks TLS every request is one to the public address: cookies are then for TLS only, browsers are told to stay with it, and
/// an origin is held against the name that people type. What asks this machine itself by one of its names is left as it is: commands, health.
/// </summary>
internal sealed class PublicAddress(Uri address, RequestDelegate next)
{
    private const string StayForAYear = "max-age=31536000";

    public Task InvokeAsync(HttpContext http)
    {
        if (AccessGuard.IsOurs(http.Request.Host) && !http.Request.Headers.ContainsKey("X-Forwarded-Proto")) return next(http);
        (http.Request.Scheme, http.Request.Host) = (address.Scheme, new HostString(address.Authority));
        http.Response.Headers.StrictTransportSecurity = StayForAYear;
        return next(http);
    }
}

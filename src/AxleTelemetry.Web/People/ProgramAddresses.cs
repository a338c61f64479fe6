using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.People;

/// <summary>Addresses for programs: who may not ask there is answered with a status, not led to a page.</summary>
public static class ProgramAddresses
{
    private static readonly string[] All = ["/api", "/health", "/metrics", "/openapi"];

    public static bool Has(PathString path) => Array.Exists(All, p => path.StartsWithSegments(p));
}

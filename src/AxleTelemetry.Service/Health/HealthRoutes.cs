using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Health;

/// <summary>Addresses for people and for what watches the process.</summary>
internal static class HealthRoutes
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/health", Read).Needs(Right.Look).Takes().Produces<HealthDocument>().Produces<HealthDocument>(503).WithSummary("How the service is, with every reason; 503 where it is not ready.");
        routes.MapGet("/health/ready", Read).Needs(Right.Look).Takes().Produces<HealthDocument>().Produces<HealthDocument>(503).WithSummary("The same, for what sends traffic.");
        routes.MapGet("/health/live", () => Results.Text("alive")).IsOpen().Takes().Produces<string>(200, "text/plain").WithSummary("The process answers. Open to everybody.");
    }

    private static IResult Read(Desks desks)
    {
        var health = HealthDocument.Of([.. desks.All.Select(d => (d.Name, d.Health))], [.. desks.All.Where(d => d.Series() is not null).Select(d => (d.Name, d.Series()!))], DeliveryReasons.Of(desks.Deliveries));
        return Results.Json(health, statusCode: health.Ready ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
    }
}

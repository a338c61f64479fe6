using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Metering;

/// <summary>The address of the metrics.</summary>
internal static class MetricRoutes
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/metrics", (ServiceMeter meter) => Results.Text(OpenMetrics.Text(meter.Meter), OpenMetrics.ContentType))
        .Needs(Right.Look).Takes().Produces<string>(200, "application/openmetrics-text").WithSummary("The metrics as OpenMetrics text.");
}

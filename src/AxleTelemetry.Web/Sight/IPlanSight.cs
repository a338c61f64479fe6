namespace AxleTelemetry.Web.Sight;

/// <summary>Plans of loads. For any thread.</summary>
public interface IPlanSight
{
    Task<PlanAnswer> PlanAsync(PlanQuestion question, CancellationToken cancel);
}

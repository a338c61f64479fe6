using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Web.Sight;

/// <summary>Limits that something must not fall below: what passes one is too little, not over.</summary>
public static class LeastLimit
{
    /// <summary>True for a least share and a least load of a coupling.</summary>
    public static bool IsLeast(this MarginKind kind) => kind is MarginKind.CouplingLeast or MarginKind.DrivingShare or MarginKind.SteeringShare;
}

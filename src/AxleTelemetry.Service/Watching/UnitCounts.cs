using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Fleet;

namespace AxleTelemetry.Service.Watching;

/// <summary>What was not taken of a vehicle, in a line; empty where all was.</summary>
internal static class UnitCounts
{
    public static string Text(Followed vehicle, RefusalCounter refusals)
    {
        var counts = vehicle.Counts;
        return string.Join(", ", new (long Count, string What)[]
        {
            (refusals.Of(vehicle.Name.Fleet, vehicle.Name.Id).Total, "refused"),
            (counts.CouplingsRefused, "couplings refused"),
            (counts.Late, "late"),
            (counts.NotCoupled, "not coupled"),
            (counts.Repeated, "sent again"),
            (counts.Conflicting, "in conflict"),
            (counts.Gaps, "missing"),
            (counts.Unstepped, "lost to the fault"),
        }.Where(c => c.Count > 0).Select(c => FormattableString.Invariant($"{c.Count} {c.What}")));
    }
}

using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Watching;

/// <summary>What came otherwise than it should from a vehicle, in a line; empty where nothing did.</summary>
internal static class UnitCounts
{
    public static string Text(VehicleState vehicle, RefusalCounter refusals)
    {
        var readings = vehicle.Readings;
        return string.Join(", ", new (long Count, string What)[]
        {
            (refusals.Of(vehicle.Name.Fleet, vehicle.Name.Id).Total, "refused"),
            (readings.Late, "late"),
            (readings.TooLate, "too late"),
            (readings.Repeated, "sent again"),
            (readings.Conflicting, "in conflict"),
            (vehicle.Counts.Gaps, "missing"),
        }.Where(c => c.Count > 0).Select(c => FormattableString.Invariant($"{c.Count} {c.What}")));
    }
}

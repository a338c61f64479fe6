using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Web.Sight;

/// <summary>What a fleet controller has before him, at one moment. Immutable; all who look share one.</summary>
/// <param name="Number">Grows with every picture.</param>
/// <param name="At">When it was taken, by the clock of the service.</param>
/// <param name="Alerts">Open alerts, most urgent first.</param>
/// <param name="Alarms">How many alarms come, by fleet.</param>
/// <param name="Fleet">Every described vehicle, by name; <c>null</c> until they were first looked at.</param>
/// <param name="Troubles">What keeps the service from its work, each in a sentence.</param>
public sealed record NowPicture(long Number, Moment At, ImmutableArray<AlertLine> Alerts, FleetAlarms Alarms, ImmutableArray<VehicleGlance>? Fleet, ImmutableArray<string> Troubles)
{
    /// <summary>Before anything was looked at.</summary>
    public static NowPicture None { get; } = new(0, default, [], FleetAlarms.None, null, []);

    /// <summary>True before anything was looked at.</summary>
    public bool IsNone => Number == 0;
}

using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>The words that the contract lists for lift states, who moved a lift and why, and ride height.</summary>
internal static class Words
{
    /// <summary>At the index of their <see cref="LiftReport"/>.</summary>
    public static readonly NameTable Lift = new(["loaded", "unloaded", "raised", "moving", "unknown", "lowered"]);

    /// <summary>At the index of their <see cref="LiftBy"/> less one. Other words are no error: devices said what they liked before it was read.</summary>
    public static readonly NameTable By = new(["driver", "automatic"]);

    /// <summary>At the index of their <see cref="LiftReason"/> less one.</summary>
    public static readonly NameTable Reason = new(["none", "grip", "clearance", "workshop", "other"]);

    /// <summary>The first is driving height. Every other, 'unknown' among them, is not known to be at it.</summary>
    public static readonly NameTable Ride = new(["normal", "raised", "lowered", "dumped", "unknown"]);
}

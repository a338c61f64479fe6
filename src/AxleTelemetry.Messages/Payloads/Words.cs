using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>The words that the contract lists for lift states and ride height.</summary>
internal static class Words
{
    /// <summary>At the index of their <see cref="LiftReport"/>.</summary>
    public static readonly NameTable Lift = new(["loaded", "unloaded", "raised", "moving", "unknown", "lowered"]);

    /// <summary>The first is driving height. Every other, 'unknown' among them, is not known to be at it.</summary>
    public static readonly NameTable Ride = new(["normal", "raised", "lowered", "dumped", "unknown"]);
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Serving;

/// <summary>Our clock, as moments.</summary>
internal static class ClockReading
{
    public static Moment Now(this TimeProvider clock) => new(clock.GetUtcNow().ToUnixTimeMilliseconds());
}

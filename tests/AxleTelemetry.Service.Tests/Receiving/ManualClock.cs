namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>A clock that stands until it is moved.</summary>
internal sealed class ManualClock : TimeProvider
{
    private DateTimeOffset _now = new(2026, 3, 2, 6, 0, 0, TimeSpan.Zero);

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => _now;

    public override long GetTimestamp() => _now.Ticks;

    public void Move(TimeSpan by) => _now += by;
}

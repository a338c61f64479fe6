namespace AxleTelemetry.Service.Tests.Configuring;

/// <summary>A clock that a test sets on.</summary>
internal sealed class HandClock : TimeProvider
{
    private long _ticks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() => _ticks;

    public void Advance(TimeSpan time) => _ticks += time.Ticks;
}

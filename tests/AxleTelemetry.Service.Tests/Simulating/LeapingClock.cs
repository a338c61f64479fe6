namespace AxleTelemetry.Service.Tests.Simulating;

/// <summary>A clock on which nobody waits: it leaps to when a timer is due.</summary>
internal sealed class LeapingClock(DateTimeOffset start) : TimeProvider
{
    private TimeSpan _passed;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => start + _passed;

    public override long GetTimestamp() => _passed.Ticks;

    /// <summary>So much time passes.</summary>
    public void Leap(TimeSpan time) => _passed += time;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        if (dueTime > TimeSpan.Zero) _passed += dueTime;
        ThreadPool.QueueUserWorkItem(_ => callback(state));
        return new Gone();
    }

    private sealed class Gone : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}

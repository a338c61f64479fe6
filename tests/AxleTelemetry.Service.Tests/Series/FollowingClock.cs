namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A clock that stands where it is put, for days that are played; what waits on it waits by the machine's.</summary>
internal sealed class FollowingClock(DateTimeOffset start) : TimeProvider
{
    private long _now = start.UtcTicks;

    public DateTimeOffset Now
    {
        get => new(Volatile.Read(ref _now), TimeSpan.Zero);
        set => Volatile.Write(ref _now, value.UtcTicks);
    }

    public override DateTimeOffset GetUtcNow() => Now;
}

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A clock that is put on as days are played, and goes on by itself from there.</summary>
internal sealed class FollowingClock(DateTimeOffset start) : TimeProvider
{
    private volatile Put _put = new(start, System.GetTimestamp());

    public DateTimeOffset Now
    {
        get
        {
            var put = _put;
            return put.At + System.GetElapsedTime(put.Since);
        }
        set => _put = new Put(value, System.GetTimestamp());
    }

    public override DateTimeOffset GetUtcNow() => Now;

    private sealed record Put(DateTimeOffset At, long Since);
}

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>A clock on which time passes so many times faster: pauses of minutes are over in seconds.</summary>
internal sealed class HurriedClock(int times) : TimeProvider
{
    private readonly long _began = System.GetTimestamp();
    private readonly DateTimeOffset _start = System.GetUtcNow();

    public override DateTimeOffset GetUtcNow() => _start + System.GetElapsedTime(_began) * times;

    public override long GetTimestamp() => _began + (System.GetTimestamp() - _began) * times;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => System.CreateTimer(callback, state, Hurried(dueTime), Hurried(period));

    private TimeSpan Hurried(TimeSpan time) => time == Timeout.InfiniteTimeSpan ? time : time / times;
}

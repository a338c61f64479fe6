namespace AxleTelemetry.Service.Tests.People;

/// <summary>The machine's clock, put on by a test.</summary>
internal sealed class MovedClock : TimeProvider
{
    private long _ticks;

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow().AddTicks(Interlocked.Read(ref _ticks));

    public void Advance(TimeSpan by) => Interlocked.Add(ref _ticks, by.Ticks);
}

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>A clock that goes on like the machine's, from another day.</summary>
internal sealed class ShiftedClock(DateTimeOffset start) : TimeProvider
{
    private readonly TimeSpan _shift = start - DateTimeOffset.UtcNow;

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + _shift;
}

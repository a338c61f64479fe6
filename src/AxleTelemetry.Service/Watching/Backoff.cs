namespace AxleTelemetry.Service.Watching;

/// <summary>How long to wait before the next try: one second, then twice as long each time, at most half a minute.</summary>
internal sealed class Backoff
{
    private static readonly TimeSpan First = TimeSpan.FromSeconds(1), Most = TimeSpan.FromSeconds(30);

    private TimeSpan _next = First;

    /// <summary>It failed once more.</summary>
    public TimeSpan Next()
    {
        var wait = _next;
        _next = 2 * _next < Most ? 2 * _next : Most;
        return wait;
    }

    /// <summary>It worked.</summary>
    public void Reset() => _next = First;
}

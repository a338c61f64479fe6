namespace AxleTelemetry.Service.Events;

/// <summary>Counts those who listen, and lets in only so many.</summary>
/// <param name="keptDays">How long what was told is kept.</param>
/// <param name="stopping">The service stops.</param>
internal sealed class Listeners(int keptDays, CancellationToken stopping)
{
    private const int Most = 500;
    private int _count;

    public int Count => Volatile.Read(ref _count);

    public int KeptDays => keptDays;

    public CancellationToken Stopping => stopping;

    /// <summary>A place; <c>null</c> where all are taken.</summary>
    public IDisposable? Enter()
    {
        if (Interlocked.Increment(ref _count) <= Most) return new Place(this);
        Interlocked.Decrement(ref _count);
        return null;
    }

    private sealed class Place(Listeners listeners) : IDisposable
    {
        private int _left;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref _left, 1) == 0) Interlocked.Decrement(ref listeners._count);
        }
    }
}

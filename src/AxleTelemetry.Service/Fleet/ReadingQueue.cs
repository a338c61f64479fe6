using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Service.Fleet;

/// <summary>
/// One vehicle's readings in their order, waiting to be taken. Those taken are remembered for a while, so that what is sent
/// again is told from what comes late.
/// </summary>
internal sealed class ReadingQueue
{
    private const long RememberMilliseconds = 30_000;
    private const int Slack = 512;

    private readonly List<Reading> _readings = [];
    private int _head;

    /// <summary>Moment of the latest reading ever added, Unix milliseconds.</summary>
    public long Newest { get; private set; } = long.MinValue;

    /// <summary>Up to this moment nothing is waited for any more, Unix milliseconds.</summary>
    public long TakenTo { get; private set; } = long.MinValue;

    /// <summary>Readings that wait.</summary>
    public int Waiting => _readings.Count - _head;

    /// <summary>The next reading. Only where one waits.</summary>
    public Reading Next => _readings[_head];

    /// <summary>Puts a reading in its place.</summary>
    public Placing Add(in Reading reading)
    {
        var at = Place(reading);
        if (at < _readings.Count && IsSame(_readings[at], reading)) return Again(at, reading);
        if (reading.At.UnixMilliseconds <= TakenTo) return Placing.Late;
        _readings.Insert(at, reading);
        Newest = Math.Max(Newest, reading.At.UnixMilliseconds);
        return Placing.Queued;
    }

    /// <summary>Takes the next reading off. Only where one waits.</summary>
    public Reading Take() => _readings[_head++];

    /// <summary>Nothing up to a moment is waited for any more.</summary>
    public void Close(long to)
    {
        TakenTo = Math.Max(TakenTo, to);
        if (_head < Slack) return;
        var forgotten = 0;
        while (forgotten < _head && _readings[forgotten].At.UnixMilliseconds < TakenTo - RememberMilliseconds) forgotten++;
        // Moving the rest costs its length: only worth it for as much again.
        if (2 * forgotten < _readings.Count) return;
        _readings.RemoveRange(0, forgotten);
        _head -= forgotten;
    }

    private Placing Again(int at, in Reading reading)
    {
        if (_readings[at].Value.Equals(reading.Value)) return Placing.Repeated;
        // Of two values the greater counts; one that was taken already can no longer be changed.
        if (at >= _head && reading.Value > _readings[at].Value) _readings[at] = reading;
        return Placing.Conflicting;
    }

    /// <summary>Index of the first reading that is not before this one; they come nearly in order, so from the end.</summary>
    private int Place(in Reading reading)
    {
        var at = _readings.Count;
        if (at == 0 || Order(_readings[at - 1], reading) < 0) return at;
        int low = 0, high = at - 1;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Order(_readings[middle], reading) < 0) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    private static bool IsSame(in Reading a, in Reading b) => Order(a, b) == 0;

    private static int Order(in Reading a, in Reading b)
    {
        var order = a.At.CompareTo(b.At);
        if (order == 0) order = a.Kind.CompareTo(b.Kind);
        return order == 0 ? a.Key.CompareTo(b.Key) : order;
    }
}

/// <summary>What became of a reading that was added.</summary>
internal enum Placing
{
    /// <summary>It waits.</summary>
    Queued,

    /// <summary>It had come before.</summary>
    Repeated,

    /// <summary>It had come before with another value; the greater counts.</summary>
    Conflicting,

    /// <summary>Later ones were taken already.</summary>
    Late,
}

using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// One vehicle's latest readings in their order, so that what comes nearly in order needs no look into the archive. It may
/// forget at any time: the archive holds everything.
/// </summary>
internal sealed class RecentReadings
{
    private const int Most = 4096, Few = 32;

    private readonly List<Reading> _readings = [];

    /// <summary>Every reading after this moment is held, Unix milliseconds.</summary>
    public long HeldAfter { get; private set; } = long.MinValue;

    /// <summary>Moment of the latest reading ever, Unix milliseconds; the least number before the first.</summary>
    public long Newest { get; private set; } = long.MinValue;

    /// <summary>What was counted of the vehicle.</summary>
    public ReadingCounts Counts { get; set; }

    /// <summary>Puts a reading in its place. Only one that is after <see cref="HeldAfter"/>.</summary>
    public Placing Add(in Reading reading)
    {
        var at = Place(reading);
        if (at < _readings.Count && IsSame(_readings[at], reading)) return Again(at, reading);
        _readings.Insert(at, reading);
        NoteNewest(reading.At.UnixMilliseconds);
        if (_readings.Count > Most) Forget(_readings[_readings.Count / 2].At.UnixMilliseconds);
        return Placing.New;
    }

    /// <summary>A reading was seen, held or not.</summary>
    public void NoteNewest(long at) => Newest = Math.Max(Newest, at);

    /// <summary>Those after one moment, up to another. To be read to its end before anything is added.</summary>
    public ReadingStream Between(long after, long to) => new ReadingStream.Held(_readings, FirstAfter(after), FirstAfter(to));

    /// <summary>Those up to a moment need not be held any more.</summary>
    public void Forget(long to)
    {
        if (to <= HeldAfter) return;
        var forgotten = FirstAfter(to);
        // Moving the rest costs its length: only worth it for as much again.
        if (2 * forgotten < _readings.Count) return;
        _readings.RemoveRange(0, forgotten);
        // The room of a large message is not kept for the next one: most vehicles are between two messages.
        if (_readings.Capacity > Few && 4 * _readings.Count < _readings.Capacity) _readings.Capacity = Math.Max(_readings.Count, Few);
        HeldAfter = to;
    }

    /// <summary>Nothing up to a moment is held: it is in the archive.</summary>
    public void BeginAfter(long held, long newest) => (HeldAfter, Newest) = (held, newest);

    public static bool IsSame(in Reading a, in Reading b) => a.At == b.At && a.Kind == b.Kind && a.Key == b.Key;

    private Placing Again(int at, in Reading reading)
    {
        var before = _readings[at].Value;
        if (before.Equals(reading.Value)) return Placing.Repeated;
        if (before > reading.Value) return Placing.Lesser;
        _readings[at] = reading;
        return Placing.Greater;
    }

    private int FirstAfter(long moment)
    {
        // The end is asked for most.
        if (_readings.Count == 0 || _readings[^1].At.UnixMilliseconds <= moment) return _readings.Count;
        int low = 0, high = _readings.Count - 1;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_readings[middle].At.UnixMilliseconds <= moment) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    /// <summary>Index of the first reading that is not before this one; they come nearly in order, so from the end.</summary>
    private int Place(in Reading reading)
    {
        if (_readings.Count == 0 || Order(_readings[^1], reading) < 0) return _readings.Count;
        int low = 0, high = _readings.Count - 1;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Order(_readings[middle], reading) < 0) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    private static int Order(in Reading a, in Reading b)
    {
        var order = a.At.CompareTo(b.At);
        if (order == 0) order = (int)a.Kind - (int)b.Kind;
        return order == 0 ? a.Key.CompareTo(b.Key) : order;
    }
}

/// <summary>What became of a reading among those of its vehicle.</summary>
internal enum Placing
{
    /// <summary>Nothing of its identity was there.</summary>
    New,

    /// <summary>It was there.</summary>
    Repeated,

    /// <summary>It was there with a lesser value: this one counts.</summary>
    Greater,

    /// <summary>It was there with a greater value, which counts.</summary>
    Lesser,
}

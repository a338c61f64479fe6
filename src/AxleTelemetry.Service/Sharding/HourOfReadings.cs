using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// A vehicle's readings of one hour in their order. What is added goes to a short list beside it, put in order now and then: late
/// readings come by the thousand, and each is asked for before it is added.
/// </summary>
internal sealed class HourOfReadings
{
    private const int MostAdded = 512;

    private readonly List<Reading> _added = [];
    private List<Reading> _ordered;

    public HourOfReadings(List<Reading> readings)
    {
        _ordered = readings;
        _ordered.Sort();
    }

    /// <summary>When it was last asked for, counted.</summary>
    public long AskedAt { get; set; }

    /// <summary>Readings in it.</summary>
    public int Count => _ordered.Count + _added.Count;

    /// <summary>Adds a reading. Returns by how many it grew.</summary>
    public int Add(in Reading reading)
    {
        if (_added.Count == 0 && (_ordered.Count == 0 || _ordered[^1].CompareTo(reading) <= 0)) _ordered.Add(reading);
        else _added.Add(reading);
        if (_added.Count >= MostAdded) Merge();
        return 1;
    }

    /// <summary>Those after one moment, up to another; a copy.</summary>
    public Reading[] Between(Moment after, Moment to)
    {
        var (first, end) = (FirstAfter(after), FirstAfter(to));
        List<Reading> found = first >= end ? [] : _ordered.GetRange(first, end - first);
        var before = found.Count;
        foreach (ref readonly var reading in CollectionsMarshal.AsSpan(_added))
            if (reading.At > after && reading.At <= to)
                found.Add(reading);
        if (found.Count > before) found.Sort();
        return [.. found];
    }

    /// <summary>Words of lifts and suspension up to a moment, newest first, none older than another.</summary>
    public IEnumerable<Reading> WordsUpTo(Moment at, Moment oldest)
    {
        Merge();
        for (var i = FirstAfter(at) - 1; i >= 0 && _ordered[i].At > oldest; i--)
            if (StandingWord.Is(_ordered[i]))
                yield return _ordered[i];
    }

    private void Merge()
    {
        if (_added.Count == 0) return;
        _added.Sort();
        var merged = new List<Reading>(_ordered.Count + _added.Count);
        var next = 0;
        foreach (ref readonly var reading in CollectionsMarshal.AsSpan(_ordered))
        {
            while (next < _added.Count && _added[next].CompareTo(reading) < 0) merged.Add(_added[next++]);
            merged.Add(reading);
        }

        for (; next < _added.Count; next++) merged.Add(_added[next]);
        _ordered = merged;
        _added.Clear();
    }

    private int FirstAfter(Moment moment)
    {
        int low = 0, high = _ordered.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_ordered[middle].At <= moment) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}

namespace AxleTelemetry.Service.Fleet;

/// <summary>
/// Who said when that a trailer hangs on them. Asked by moment, so that the answer depends on what was said and not on when
/// the word came. A coupling holds for what comes after its moment: it stands last in the order of one moment.
/// </summary>
internal sealed class ClaimLedger
{
    private const int MostEntries = 32;

    private readonly List<Entry> _entries = [];

    /// <summary>The powered vehicle that the trailer hangs on at a moment; <c>null</c> for none.</summary>
    public VehicleName? At(long moment)
    {
        VehicleName? holder = null;
        foreach (var entry in _entries)
        {
            if (entry.From >= moment) break;
            if (entry.Claims) holder = entry.By;
            else if (holder == entry.By) holder = null;
        }

        return holder;
    }

    /// <summary>Enters that a powered vehicle claims the trailer, or no longer does, from a moment on; what it said of that moment before is forgotten.</summary>
    public void Enter(long from, VehicleName by, bool claims)
    {
        _entries.RemoveAll(e => e.From == from && e.By == by);
        var entry = new Entry(from, by, claims);
        _entries.Insert(~_entries.BinarySearch(entry), entry);
        if (_entries.Count <= MostEntries) return;
        // What the oldest two say is kept as one word.
        var holder = At(_entries[1].From + 1);
        _entries.RemoveAt(0);
        _entries[0] = _entries[0] with { By = holder ?? _entries[0].By, Claims = holder is not null };
    }

    /// <summary>The moments after another at which somebody else claims the trailer.</summary>
    public IEnumerable<long> ClaimedByOthers(long after, VehicleName by) =>
        _entries.Where(e => e.From > after && e.Claims && e.By != by).Select(e => e.From);

    private readonly record struct Entry(long From, VehicleName By, bool Claims) : IComparable<Entry>
    {
        public int CompareTo(Entry other)
        {
            var order = From.CompareTo(other.From);
            if (order == 0) order = Claims.CompareTo(other.Claims);
            return order == 0 ? By.CompareTo(other.By) : order;
        }
    }
}

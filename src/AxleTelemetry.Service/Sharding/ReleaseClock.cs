using System.Collections.Immutable;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Decides up to which moment a unit's readings are taken: at once as far as all its regular streams have come, and the rest
/// when the slowest has been waited for long enough. What comes later still is late, and history is corrected.
/// </summary>
/// <param name="wait">How long the slowest stream is waited for.</param>
internal sealed class ReleaseClock(TimeSpan wait)
{
    private readonly Dictionary<VehicleName, Pending> _pending = [];
    private readonly Dictionary<VehicleName, long> _owed = [];
    private readonly long _wait = (long)wait.TotalMilliseconds;

    /// <summary>Units of which something waits.</summary>
    public int Waiting => _pending.Count;

    /// <summary>Up to which moment a unit is to be taken now; <c>null</c> where nothing was heard of it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="members">Its vehicles.</param>
    /// <param name="now">Our clock, Unix milliseconds.</param>
    public long? DueTo(VehicleName unit, ImmutableArray<StreamMarks> members, long now)
    {
        long? newest = null, complete = null;
        foreach (var marks in members)
        {
            if (marks.Newest is { } latest && (newest is null || latest > newest)) newest = latest;
            if (marks.Complete is { } whole && (complete is null || whole < complete)) complete = whole;
        }

        // What a coupling changed is to be taken, though the unit may never be heard again.
        if (_owed.TryGetValue(unit, out var owed))
        {
            if (newest is null || owed > newest) (newest, complete) = (owed, complete ?? long.MinValue);
            else _owed.Remove(unit);
        }

        if (newest is not { } end) return null;
        if (complete is not { } upTo || upTo >= end)
        {
            _pending.Remove(unit);
            return end;
        }

        if (!_pending.TryGetValue(unit, out var pending) || pending.To <= upTo) _pending[unit] = pending = new Pending(now, end);
        if (now - pending.Since < _wait) return upTo;
        _pending.Remove(unit);
        foreach (var marks in members) marks.GiveUpBefore(pending.To);
        if (pending.To >= end) return Math.Max(upTo, pending.To);
        // What came meanwhile waits on, or is due as well: without a further message nobody would ask again.
        return Math.Max(pending.To, DueTo(unit, members, now)!.Value);
    }

    /// <summary>A unit is to be taken up to a moment, whoever is still heard of it.</summary>
    public void Owe(VehicleName unit, long to) => _owed[unit] = Math.Max(to, _owed.GetValueOrDefault(unit, long.MinValue));

    /// <summary>Up to where a unit is to be taken, as far as is owed; <c>null</c> where nothing is.</summary>
    public long? Owed(VehicleName unit) => _owed.TryGetValue(unit, out var owed) ? owed : null;

    /// <summary>A unit as the last owner of the shard left it: whatever waits has waited long enough.</summary>
    public void Restore(VehicleName unit, long newest) => _pending[unit] = new Pending(long.MinValue / 2, newest);

    /// <summary>Nothing waits any more.</summary>
    public void Clear() => _pending.Clear();

    /// <summary>Units whose waiting is over.</summary>
    public List<VehicleName> Over(long now)
    {
        List<VehicleName> over = [];
        foreach (var (unit, pending) in _pending)
            if (now - pending.Since >= _wait)
                over.Add(unit);
        return over;
    }

    private readonly record struct Pending(long Since, long To);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// When a unit's history is run again: once nothing late came for a while, or the first waited long enough. So each late reading
/// is run again once in a quiet period and not once a message.
/// </summary>
internal sealed class CorrectionClock(TimeSpan quiet, TimeSpan longest)
{
    // A disk that does not answer is asked again soon, one that never does now and then.
    private const double FirstPause = 2_000, LongestPause = 600_000;

    private readonly Dictionary<VehicleName, (long First, long Last)> _late = [];
    private readonly SortedDictionary<VehicleName, Failure> _failed = [];

    /// <summary>Units whose history could not be run again because the log could not be read, and why; each is tried again.</summary>
    public ImmutableArray<(VehicleName Unit, string Why)> Failing => [.. _failed.Select(f => (f.Key, f.Value.Why))];

    /// <summary>Something of a unit came late.</summary>
    public void Late(VehicleName unit, Moment now) =>
        _late[unit] = (_late.TryGetValue(unit, out var before) ? before.First : now.UnixMilliseconds, now.UnixMilliseconds);

    /// <summary>A unit is being run again: what comes late from now on begins a new wait.</summary>
    public void Begun(VehicleName unit) => _late.Remove(unit);

    /// <summary>The log could not be read for a unit: it is tried again after a pause that grows.</summary>
    public void Failed(VehicleName unit, string why, Moment now)
    {
        var pause = _failed.TryGetValue(unit, out var before) ? Math.Min(2 * before.Pause, LongestPause) : FirstPause;
        _failed[unit] = new Failure(why, now.UnixMilliseconds, pause);
    }

    /// <summary>A unit's history was run again, or somebody wants it tried now.</summary>
    public void Succeeded(VehicleName unit) => _failed.Remove(unit);

    /// <summary>True where a unit has waited long enough; one of which nothing is known waits for nothing.</summary>
    public bool IsDue(VehicleName unit, Moment now) => !Pauses(unit, now) && HasWaited(unit, now);

    // A clock that was put back must not make a pause longer.
    private bool Pauses(VehicleName unit, Moment now) =>
        _failed.TryGetValue(unit, out var failure) && now.UnixMilliseconds >= failure.At && now.UnixMilliseconds - failure.At < failure.Pause;

    private bool HasWaited(VehicleName unit, Moment now) => !_late.TryGetValue(unit, out var late)
        || now.UnixMilliseconds - late.Last >= quiet.TotalMilliseconds
        || now.UnixMilliseconds - late.First >= longest.TotalMilliseconds;

    private readonly record struct Failure(string Why, long At, double Pause);
}

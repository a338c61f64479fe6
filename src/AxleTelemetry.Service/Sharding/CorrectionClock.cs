using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// When a unit's history is run again: once nothing late came for a while, or the first waited long enough. So each late reading
/// is run again once in a quiet period and not once a message.
/// </summary>
internal sealed class CorrectionClock(TimeSpan quiet, TimeSpan longest)
{
    private readonly Dictionary<VehicleName, (long First, long Last)> _late = [];

    /// <summary>Something of a unit came late.</summary>
    public void Late(VehicleName unit, Moment now) =>
        _late[unit] = (_late.TryGetValue(unit, out var before) ? before.First : now.UnixMilliseconds, now.UnixMilliseconds);

    /// <summary>A unit is being run again: what comes late from now on begins a new wait.</summary>
    public void Begun(VehicleName unit) => _late.Remove(unit);

    /// <summary>True where a unit has waited long enough; one of which nothing is known waits for nothing.</summary>
    public bool IsDue(VehicleName unit, Moment now) => !_late.TryGetValue(unit, out var late)
        || now.UnixMilliseconds - late.Last >= quiet.TotalMilliseconds
        || now.UnixMilliseconds - late.First >= longest.TotalMilliseconds;
}

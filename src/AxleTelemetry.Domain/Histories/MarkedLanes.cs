using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>The units whose history is to be corrected. Few among many, and asked for all the time.</summary>
internal sealed class MarkedLanes
{
    private readonly Dictionary<VehicleName, long> _from = [];

    /// <summary>How many.</summary>
    public int Count => _from.Count;

    /// <summary>A copy of them, oldest moment first; of one moment by name.</summary>
    public IEnumerable<(VehicleName Unit, Moment From)> InOrder =>
        _from.Count == 0 ? [] : [.. _from.OrderBy(m => m.Value).ThenBy(m => m.Key).Select(m => (m.Key, new Moment(m.Value)))];

    /// <summary>From when on a unit is to be corrected; <c>null</c>: not at all.</summary>
    public void Set(VehicleName unit, long? from)
    {
        if (from is { } moment) _from[unit] = moment;
        else _from.Remove(unit);
    }
}

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>A vehicle as messages name it: its id counts within its fleet.</summary>
/// <param name="Fleet">The fleet it belongs to.</param>
/// <param name="Id">Its id there.</param>
public readonly record struct VehicleName(string Fleet, string Id) : IComparable<VehicleName>
{
    /// <summary>By fleet, then by id, byte by byte: the same on every machine.</summary>
    public int CompareTo(VehicleName other)
    {
        var order = string.CompareOrdinal(Fleet, other.Fleet);
        return order == 0 ? string.CompareOrdinal(Id, other.Id) : order;
    }

    /// <inheritdoc/>
    public override string ToString() => Id;
}

namespace AxleTelemetry.Service.Fleet;

/// <summary>A vehicle as topics name it: its id counts within its fleet.</summary>
internal readonly record struct VehicleName(string Fleet, string Id) : IComparable<VehicleName>
{
    /// <inheritdoc/>
    public int CompareTo(VehicleName other)
    {
        var order = string.CompareOrdinal(Fleet, other.Fleet);
        return order == 0 ? string.CompareOrdinal(Id, other.Id) : order;
    }

    /// <inheritdoc/>
    public override string ToString() => Id;
}

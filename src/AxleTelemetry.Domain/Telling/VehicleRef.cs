namespace AxleTelemetry.Domain.Telling;

/// <summary>A vehicle whose lane says something: fleet and identity within it. A trailer that hands its readings on speaks through its tractor's.</summary>
/// <param name="Fleet">Fleet, as in the message contract.</param>
/// <param name="Id">Vehicle within the fleet.</param>
public readonly record struct VehicleRef(string Fleet, string Id) : IComparable<VehicleRef>
{
    /// <inheritdoc/>
    public int CompareTo(VehicleRef other)
    {
        var order = string.CompareOrdinal(Fleet, other.Fleet);
        return order == 0 ? string.CompareOrdinal(Id, other.Id) : order;
    }

    /// <inheritdoc/>
    public override string ToString() => $"{Fleet}/{Id}";
}

namespace AxleTelemetry.Storage.Rows;

/// <summary>Whose row it is: a vehicle of a fleet. Both empty for a row that belongs to the whole shard.</summary>
/// <remarks><c>default</c> holds nulls and is refused by the journal; use <see cref="Shard"/>.</remarks>
public readonly record struct VehicleKey(string Fleet, string Vehicle)
{
    /// <summary>The owner of rows that belong to no vehicle.</summary>
    public static VehicleKey Shard { get; } = new(string.Empty, string.Empty);
}

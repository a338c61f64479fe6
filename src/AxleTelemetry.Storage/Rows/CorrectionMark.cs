using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>What a batch says of the history of a vehicle that late data changes.</summary>
public abstract record CorrectionMark
{
    private CorrectionMark(VehicleKey vehicle) => Vehicle = vehicle;

    /// <summary>Whose history.</summary>
    public VehicleKey Vehicle { get; }

    /// <summary>To be corrected from a moment on; of two such marks the earlier holds.</summary>
    public sealed record From(VehicleKey Vehicle, Moment Since) : CorrectionMark(Vehicle);

    /// <summary>Corrected: the mark is taken away.</summary>
    public sealed record Done(VehicleKey Vehicle) : CorrectionMark(Vehicle);
}

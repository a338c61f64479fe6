using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Writing;

/// <summary>The key of a checkpoint: kind and vehicle in one integer.</summary>
internal static class CheckpointPlace
{
    private const int VehicleBits = 32;

    public static long Of(RowKind kind, long vehicle) => ((long)kind.Code << VehicleBits) | vehicle;
}

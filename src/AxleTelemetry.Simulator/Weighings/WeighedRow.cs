using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Simulator.Weighings;

/// <summary>What a technician writes down for one circuit at one weighing.</summary>
public sealed record WeighedRow
{
    /// <summary>Names the weighing.</summary>
    public required string Weighing { get; init; }

    /// <summary>When.</summary>
    public required Moment At { get; init; }

    /// <summary>The circuit.</summary>
    public required CircuitId Circuit { get; init; }

    /// <summary>Pressure that the sensor showed.</summary>
    public required double Kilopascals { get; init; }

    /// <summary>What the bridge printed for one axle of the circuit, the mean where there are several.</summary>
    public required double AxleKilograms { get; init; }

    /// <summary>How it was weighed.</summary>
    public required WeighingMethod Method { get; init; }

    /// <summary>Gross that the bridge printed, where it weighs the whole vehicle.</summary>
    public double? GrossKilograms { get; init; }

    /// <summary>What else was written.</summary>
    public string Note { get; init; } = "";
}

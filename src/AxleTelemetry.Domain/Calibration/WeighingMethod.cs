namespace AxleTelemetry.Domain.Calibration;

/// <summary>How a ticket was weighed; it decides the ticket's own standard deviation (common practice).</summary>
public enum WeighingMethod : byte
{
    /// <summary>Whole vehicle on a certified platform: max(20 kg, 0.1 % of gross).</summary>
    FullPlatform,

    /// <summary>Axle by axle on a level static bridge: 1.5 % of the axle.</summary>
    AxleByAxle,

    /// <summary>In motion: 3 % of the axle.</summary>
    Dynamic,
}

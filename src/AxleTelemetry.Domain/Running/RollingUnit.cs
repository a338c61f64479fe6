using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Running;

/// <summary>What rolls: a combination in one configuration, and the numbers to reckon with.</summary>
public readonly record struct RollingUnit(Combination Combination, Configuration Configuration, RunningRules Rules);

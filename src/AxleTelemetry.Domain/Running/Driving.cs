namespace AxleTelemetry.Domain.Running;

/// <summary>How it is driven.</summary>
/// <param name="Speed">m/s. Air drag goes by it, and whether self-steering axles are locked: slow bends belong to a stretch of their own.</param>
/// <param name="Bends">How the road bends.</param>
public readonly record struct Driving(double Speed, Bends Bends);

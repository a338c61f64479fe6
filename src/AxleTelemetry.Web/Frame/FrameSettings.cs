namespace AxleTelemetry.Web.Frame;

/// <summary>What the frame is told by the service.</summary>
/// <param name="IsDemonstration">The fleet is invented, and whoever sits at this machine is signed in.</param>
public sealed record FrameSettings(bool IsDemonstration);

using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Messages.Sequences;

/// <summary>The running numbers of one boot.</summary>
/// <param name="Boot">The device's mark of it; <c>null</c> for a device that sends none.</param>
/// <param name="Tracker">What is known of its numbers.</param>
public readonly record struct BootSequence(BootId? Boot, SequenceTracker Tracker);

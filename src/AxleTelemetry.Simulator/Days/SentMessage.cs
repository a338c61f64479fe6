using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Simulator.Days;

/// <summary>A message as a device sends it.</summary>
/// <param name="SentAt">When it leaves the device, by a right clock.</param>
/// <param name="Topic">Where to.</param>
/// <param name="Payload">Its bytes.</param>
public sealed record SentMessage(Moment SentAt, string Topic, ReadOnlyMemory<byte> Payload)
{
    /// <summary>The message as a recording holds it, received when it was sent.</summary>
    public RecordedMessage AsRecorded() => new(Topic, Payload, SentAt);
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Recordings;

/// <summary>A message as it came, before anything judged it.</summary>
/// <param name="Topic">The topic as text; it may be none of ours.</param>
/// <param name="Payload">The bytes as sent.</param>
/// <param name="Received">When it came, if the recording says so.</param>
public sealed record RecordedMessage(string Topic, ReadOnlyMemory<byte> Payload, Moment? Received = null);

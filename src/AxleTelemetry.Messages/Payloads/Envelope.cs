using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>What is known of a message beside its bytes.</summary>
/// <param name="Topic">Names the vehicle and the stream.</param>
/// <param name="Keys">What the vehicle's description calls its parts.</param>
/// <param name="Received">When the message came, by our clock.</param>
/// <param name="AllowedSkew">How far a sample may lie ahead of <paramref name="Received"/>; not negative.</param>
public readonly record struct Envelope(Topic Topic, KeyTable Keys, Moment Received, TimeSpan AllowedSkew);

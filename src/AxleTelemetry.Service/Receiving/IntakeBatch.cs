using System.Collections.Immutable;

namespace AxleTelemetry.Service.Receiving;

/// <summary>What is committed together, in the order received.</summary>
internal sealed record IntakeBatch(ImmutableArray<Received> Messages, long Bytes);

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What a second run found of an episode while it held.</summary>
/// <param name="Members">The vehicles it was said of.</param>
/// <param name="Episode">As it was said.</param>
public sealed record FoundAgain(ImmutableArray<LaneMember> Members, LaneOutput.Episode Episode);

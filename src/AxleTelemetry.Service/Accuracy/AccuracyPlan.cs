using System.Collections.Immutable;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>What to run.</summary>
/// <param name="Units">How many combinations a seed, of every kind in turn.</param>
/// <param name="Days">Days of each.</param>
/// <param name="Every">Seconds between samples: 1 or 10.</param>
/// <param name="Seeds">What the fleets are drawn with.</param>
internal sealed record AccuracyPlan(int Units, int Days, int Every, ImmutableArray<ulong> Seeds);

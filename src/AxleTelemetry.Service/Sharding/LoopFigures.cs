using System.Collections.Immutable;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What the thread of a shard lets others see of it.</summary>
internal sealed record LoopFigures
{
    public required long Batch { get; init; }

    public DateTimeOffset? CommittedAt { get; init; }

    public TimeSpan CommitTime { get; init; }

    public int BatchMessages { get; init; }

    public required ImmutableArray<(VehicleName Unit, string Why)> Stopped { get; init; }

    public required ImmutableArray<(VehicleName Unit, string Why)> NotRead { get; init; }

    public required int ToBeCorrected { get; init; }

    public required long Corrected { get; init; }

    public required bool IsSettled { get; init; }

    public required string ConfigurationVersion { get; init; }

    public required long Messages { get; init; }

    public required long Samples { get; init; }

    /// <summary>A shard as it stands; on its own thread only.</summary>
    public static LoopFigures Of(Shard shard) => new()
    {
        Batch = shard.LastBatch,
        Stopped = [.. shard.State.Stopped.Select(s => (s.Key, s.Value))],
        NotRead = shard.State.Corrections.Failing,
        ToBeCorrected = shard.State.History.CountToBeCorrected,
        Corrected = shard.Corrected,
        IsSettled = shard.IsSettled,
        ConfigurationVersion = shard.State.Log.Any ? shard.State.Configuration.Version : "",
        Messages = shard.Messages,
        Samples = shard.Samples,
    };
}

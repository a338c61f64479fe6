using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Health;

/// <summary>How the service is.</summary>
/// <param name="Ready">Messages are taken and committed in every shard.</param>
/// <param name="Reasons">Why it is not ready, and what else somebody should look at, each in a sentence; empty where all is well.</param>
/// <param name="Shards">The shards.</param>
internal sealed record HealthDocument(bool Ready, ImmutableArray<ReasonDocument> Reasons, ImmutableArray<ShardDocument> Shards)
{
    public static HealthDocument Of(ImmutableArray<(string Name, ShardHealth Health)> shards, ImmutableArray<(string Name, SeriesState State)> series = default, ImmutableArray<ReasonDocument> others = default)
    {
        ImmutableArray<ReasonDocument> reasons = [.. shards.SelectMany(s => ReasonsOf(s.Name, s.Health)), .. (series.IsDefault ? [] : series).SelectMany(s => ReasonsOf(s.Name, s.State)), .. others.IsDefault ? [] : others];
        return new(reasons.All(r => !r.StopsReadiness), reasons, [.. shards.Select(s => ShardDocument.Of(s.Name, s.Health))]);
    }

    private static IEnumerable<ReasonDocument> ReasonsOf(string shard, SeriesState series)
    {
        if (series.Trouble is { } trouble) yield return new(shard, "series", $"History is not carried to the database of series at present; it waits in the journal: {trouble}", false);
        if (series.Missed > 0) yield return new(shard, "series", FormattableString.Invariant($"{series.Missed} changes of history were let go before they were carried to the database of series."), false);
        if (!series.Refused.IsEmpty)
            yield return new(shard, "series", FormattableString.Invariant($"The database of series refused {series.Refused.Values.Sum()} points: {string.Join("; ", series.Refused.Select(r => FormattableString.Invariant($"{r.Value} x {r.Key}")))}"), false);
    }

    private static IEnumerable<ReasonDocument> ReasonsOf(string shard, ShardHealth health)
    {
        if (health.Ended is { } ended) yield return new(shard, "ended", ended, true);
        if (health.Receiver is { Ready: false } receiver) yield return new(shard, "broker", receiver.Text, true);
        if (health.Intake is not IntakeState.Taking) yield return new(shard, "intake", health.Intake.Text, true);
        if (health.CommitTrouble is { } trouble && health.Intake is not IntakeState.CommitsFailing) yield return new(shard, "commits", $"The last commit failed: {trouble}", true);
        if (health.IsShortOfRoom) yield return new(shard, "room", "The disk has no room for more than a clean stop: free some.", true);
        foreach (var (unit, why) in health.Stopped) yield return new(shard, "lane", $"The lane of {unit.Id} stopped by a fault of ours: {why} Its messages are kept.", false);
        foreach (var (unit, why) in health.NotRead) yield return new(shard, "history", $"Late readings of {unit.Id} wait, as the journal cannot be read: {why} It is tried again.", false);
        foreach (var error in health.ConfigurationErrors) yield return new(shard, "configuration", $"The files of the configuration are in error, the one before stays in force: {error}", false);
    }
}

/// <summary>Something that somebody should look at.</summary>
/// <param name="Shard">Where.</param>
/// <param name="What">For programs: <c>ended</c>, <c>broker</c>, <c>intake</c>, <c>commits</c>, <c>room</c>, <c>lane</c>, <c>history</c>, <c>configuration</c>, <c>series</c>, <c>delivery</c>.</param>
/// <param name="Sentence">For people.</param>
/// <param name="StopsReadiness">True where messages are not taken or not committed for it.</param>
internal sealed record ReasonDocument(string Shard, string What, string Sentence, bool StopsReadiness);

/// <summary>One shard.</summary>
internal sealed record ShardDocument
{
    public required string Shard { get; init; }

    /// <summary>For a broker elsewhere: how the connection is.</summary>
    public string? Broker { get; init; }

    /// <summary>Devices connected to the broker inside; absent for a broker elsewhere.</summary>
    public int? Devices { get; init; }

    /// <summary>Number of the last batch, and when it was committed.</summary>
    public required long Batch { get; init; }

    public Moment? CommittedAt { get; init; }

    /// <summary>Taken and not yet committed.</summary>
    public required long HeldBytes { get; init; }

    public required long JournalBytes { get; init; }

    /// <summary>Units whose history is to be corrected.</summary>
    public required int ToBeCorrected { get; init; }

    /// <summary>Nothing waits: every committed reading is in the history in force.</summary>
    public required bool IsSettled { get; init; }

    public required string ConfigurationVersion { get; init; }

    public required long Messages { get; init; }

    public static ShardDocument Of(string name, ShardHealth health) => new()
    {
        Shard = name,
        Broker = health.Receiver?.Text,
        Devices = health.Devices,
        Batch = health.Batch,
        CommittedAt = health.CommittedAt is { } at ? Codes.At(at) : null,
        HeldBytes = health.HeldBytes,
        JournalBytes = health.JournalBytes,
        ToBeCorrected = health.ToBeCorrected,
        IsSettled = health.IsSettled,
        ConfigurationVersion = health.ConfigurationVersion,
        Messages = health.Messages,
    };
}

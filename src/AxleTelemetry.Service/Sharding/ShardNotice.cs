namespace AxleTelemetry.Service.Sharding;

/// <summary>A change in how a shard is, one line in a log each.</summary>
internal abstract record ShardNotice(string Shard)
{
    /// <summary>In words; no secrets.</summary>
    public abstract string Text { get; }

    /// <summary>Commits fail.</summary>
    public sealed record CommitsFail(string Shard, string Why) : ShardNotice(Shard)
    {
        public override string Text => $"The journal takes nothing: {Why} The same batch is written again until it does.";
    }

    /// <summary>Commits work again.</summary>
    public sealed record CommitsWork(string Shard) : ShardNotice(Shard)
    {
        public override string Text => "The journal takes batches again.";
    }

    /// <summary>Old inputs were neither sealed nor let go.</summary>
    public sealed record NotTidied(string Shard, string Why) : ShardNotice(Shard)
    {
        public override string Text => $"The journal cannot be tidied: {Why} Batches are still written; it is tried again.";
    }

    /// <summary>A lane stopped by a fault of ours.</summary>
    public sealed record LaneStopped(string Shard, VehicleName Unit, string Why) : ShardNotice(Shard)
    {
        public override string Text => $"The lane of {Unit} stopped: {Why} Its messages are kept; 'resume' runs them again after the repair.";
    }

    /// <summary>The journal could not be read for a second run of history.</summary>
    public sealed record NotRead(string Shard, VehicleName Unit, string Why) : ShardNotice(Shard)
    {
        public override string Text => $"The history of {Unit} cannot be put right now, as the journal cannot be read: {Why} It is tried again.";
    }

    /// <summary>A stopped lane runs again.</summary>
    public sealed record LaneResumed(string Shard, VehicleName Unit) : ShardNotice(Shard)
    {
        public override string Text => $"The lane of {Unit} runs again.";
    }

    /// <summary>Another configuration is in force.</summary>
    public sealed record Configured(string Shard, string Version) : ShardNotice(Shard)
    {
        public override string Text => $"Configuration {Version} is in force.";
    }

    /// <summary>The shard does nothing any more.</summary>
    public sealed record Ended(string Shard, string Why) : ShardNotice(Shard)
    {
        public override string Text => Why;
    }
}

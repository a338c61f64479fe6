namespace AxleTelemetry.Storage.Copying;

/// <summary>What a look at a copied database says.</summary>
public abstract record DatabaseStanding
{
    private DatabaseStanding()
    {
    }

    /// <summary>The journal of a shard, whole.</summary>
    /// <param name="Shard">Its shard.</param>
    /// <param name="Batch">Number of the last batch in it.</param>
    /// <param name="Digest">SHA-256 over its history in force.</param>
    public sealed record OfShard(string Shard, long Batch, string Digest) : DatabaseStanding;

    /// <summary>A journal that an older or a newer release wrote, whole as far as pages go.</summary>
    /// <param name="Version">Its version.</param>
    /// <param name="Known">The one this release reads.</param>
    public sealed record OtherVersion(long Version, int Known) : DatabaseStanding;

    /// <summary>Whole, and no journal.</summary>
    public sealed record Sound : DatabaseStanding;

    /// <summary>Not whole.</summary>
    /// <param name="Why">What is wrong, for a person.</param>
    public sealed record Damaged(string Why) : DatabaseStanding;
}

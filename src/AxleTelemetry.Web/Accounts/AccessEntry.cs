namespace AxleTelemetry.Web.Accounts;

/// <summary>Somebody read personal data (where a vehicle was and when, which is where its driver was): one row for each hour in which he did.</summary>
public sealed class AccessEntry
{
    public required string Who { get; init; }

    /// <summary>What was read: the address, with its parts not filled in.</summary>
    public required string What { get; init; }

    /// <summary>Of which vehicle or fleet; empty for all.</summary>
    public required string Subject { get; init; }

    /// <summary>Hours since 1970 UTC.</summary>
    public required long Hour { get; init; }

    /// <summary>First and last time in that hour, milliseconds since 1970 UTC.</summary>
    public required long FirstAt { get; init; }

    public required long LastAt { get; set; }

    /// <summary>How often.</summary>
    public required long Times { get; set; }
}

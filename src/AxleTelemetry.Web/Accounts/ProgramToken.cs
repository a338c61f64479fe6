namespace AxleTelemetry.Web.Accounts;

/// <summary>A token for a program. Times in milliseconds since 1970 UTC.</summary>
internal sealed class ProgramToken
{
    public long Id { get; init; }

    /// <summary>What the program is called: what it does is entered under this name.</summary>
    public required string Name { get; init; }

    /// <summary>SHA-256 of the token; the token itself is kept nowhere.</summary>
    public required string Hash { get; init; }

    public required string Role { get; init; }

    public required long MadeAt { get; init; }

    public required string MadeBy { get; init; }

    public required long ExpiresAt { get; init; }

    public long? RevokedAt { get; set; }

    /// <summary>When it was last used, to a minute.</summary>
    public long? UsedAt { get; set; }
}

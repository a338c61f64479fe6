namespace AxleTelemetry.Web.Accounts;

/// <summary>A link by which somebody sets a password once. Times in milliseconds since 1970 UTC.</summary>
internal sealed class OneTimeLink
{
    /// <summary>SHA-256 of its code; the code itself is kept nowhere.</summary>
    public required string Hash { get; init; }

    /// <summary>Whose password it sets; <c>null</c> for the one that makes the first administrator.</summary>
    public string? PersonId { get; init; }

    public required long ExpiresAt { get; init; }

    public long? UsedAt { get; set; }
}

namespace AxleTelemetry.Web.Accounts;

/// <summary>Something that happened to an account. Never changed; it holds no secret.</summary>
public sealed class AccountEvent
{
    public long Id { get; init; }

    /// <summary>Milliseconds since 1970 UTC.</summary>
    public required long At { get; init; }

    /// <summary>Who did it; empty where nobody was signed in.</summary>
    public required string Who { get; init; }

    /// <summary>What: the word of an <see cref="AccountAct"/>.</summary>
    public required string What { get; init; }

    /// <summary>Whose account or which token.</summary>
    public required string Subject { get; init; }

    /// <summary>Address it came from.</summary>
    public required string From { get; init; }

    /// <summary>What it was set to, where that matters.</summary>
    public required string Detail { get; init; }
}

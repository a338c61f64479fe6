using System.Collections.Immutable;

namespace AxleTelemetry.Web.Accounts;

/// <summary>What sign-in is told by the service.</summary>
public sealed record PeopleSettings
{
    /// <summary>Directory of <c>people.db</c> and of the keys that cookies are sealed with.</summary>
    public required string Directory { get; init; }

    /// <summary>Whoever asks is signed in with every role: for a demonstration on a loopback address only.</summary>
    public bool SignsInByItself { get; init; }

    /// <summary>Tokens that stand outside <c>people.db</c>.</summary>
    public ImmutableArray<KnownToken> Tokens { get; init; } = [];

    /// <summary>How long it is kept who read what, days.</summary>
    public int AccessDays { get; init; } = 90;

    /// <summary>How long it is kept what happened to accounts, days.</summary>
    public int EventDays { get; init; } = 3 * 366;

    /// <summary>Where people reach the pages when that is not where the service listens; <c>null</c> where it is.</summary>
    public Uri? PublicAddress { get; init; }

    /// <summary>A provider of OpenID Connect by which people may come in; <c>null</c> for none.</summary>
    public OpenIdProvider? OpenId { get; init; }
}

/// <summary>A provider of OpenID Connect.</summary>
/// <param name="Name">What it is called on the page for signing in.</param>
/// <param name="Authority">Its issuer.</param>
/// <param name="ClientId">What this service is called there.</param>
/// <param name="Secret">The secret that it has for this service.</param>
public sealed record OpenIdProvider(string Name, Uri Authority, string ClientId, Func<string> Secret)
{
    /// <summary>What accounts are known by that come by it: its issuer, whether or not the settings end it with a slash.</summary>
    public string Key => Authority.ToString().TrimEnd('/');

    /// <summary>The same as it was kept before the slash was left out.</summary>
    public string KeyWithSlash => $"{Key}/";

    /// <summary>The claim that says what somebody is.</summary>
    public required string RolesClaim { get; init; }

    /// <summary>Values of that claim that give each role.</summary>
    public required ImmutableSortedDictionary<string, ImmutableArray<string>> Roles { get; init; }
}

/// <summary>A token that is not in <c>people.db</c>.</summary>
/// <param name="Name">What it does is entered under this name.</param>
/// <param name="Matches">True for the token itself.</param>
/// <param name="Roles">What it may.</param>
public sealed record KnownToken(string Name, Func<string, bool> Matches, ImmutableArray<string> Roles);

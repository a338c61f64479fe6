using System.Collections.Immutable;
using System.Security.Cryptography.X509Certificates;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Contacts;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>The settings with everything they name, read and held together. Immutable. Its text shows no secret.</summary>
internal sealed record ServiceConfiguration
{
    /// <summary>What the operator wrote.</summary>
    public required ServiceSettings Settings { get; init; }

    /// <summary>The text of the settings file.</summary>
    public required SourceText Text { get; init; }

    /// <summary>Full path of the data directory; it may not exist yet.</summary>
    public required string DataDirectory { get; init; }

    /// <summary>All fleets, for the lanes.</summary>
    public required FleetConfiguration Fleets { get; init; }

    /// <summary>Password for a broker elsewhere; <c>null</c> for none.</summary>
    public Secret? BrokerPassword { get; init; }

    /// <summary>Authorities to trust for a broker elsewhere; <c>null</c>: those that this machine trusts.</summary>
    public X509Certificate2Collection? Authorities { get; init; }

    /// <summary>Thumbprint of our own certificate for a broker elsewhere, whose key was found to belong to it; <c>null</c> for none.</summary>
    public string? Identity { get; init; }

    /// <summary>A token for programs that stands in a file of the settings; <c>null</c> for none.</summary>
    public Secret? ApiToken { get; init; }

    /// <summary>The secret that a provider of OpenID Connect has for this service; <c>null</c> where there is none.</summary>
    public Secret? OpenIdSecret { get; init; }

    /// <summary>Token of the series' database; <c>null</c> where history is carried nowhere.</summary>
    public Secret? SeriesToken { get; init; }

    /// <summary>What webhooks are signed with, by recipient.</summary>
    public ImmutableSortedDictionary<string, Secret> WebhookSecrets { get; init; } = ImmutableSortedDictionary<string, Secret>.Empty;

    /// <summary>Password of the server that takes mail; <c>null</c> for none.</summary>
    public Secret? MailPassword { get; init; }

    /// <summary>Authorities to trust for it; <c>null</c>: those that this machine trusts.</summary>
    public X509Certificate2Collection? MailAuthorities { get; init; }

    /// <summary>The token that commands on this machine ask with; <c>null</c> while nothing serves.</summary>
    public Secret? CommandToken { get; init; }

    /// <summary>Devices of the broker in this process; <c>null</c>: anyone on this machine.</summary>
    public DeviceCredentials? Devices { get; init; }

    /// <summary>Whom to phone about which vehicle.</summary>
    public PhoneBook Phones { get; init; } = PhoneBook.Empty;

    /// <summary>What is odd but possible.</summary>
    public ImmutableArray<InputProblem> Warnings { get; init; } = [];

    /// <summary>Files and directories that it came from.</summary>
    public required ImmutableArray<string> Watched { get; init; }

    /// <summary>What a shard needs of the fleets.</summary>
    public FleetConfiguration Of(ShardSettings shard) => Fleets.Only(shard.Fleets);

    /// <summary>True where both say the same, secrets included.</summary>
    public bool SameAs(ServiceConfiguration other) => Text.SameBytes(other.Text) && Fleets.Version == other.Fleets.Version && Phones.SameAs(other.Phones) && SameSecrets(other) && SameDeliverySecrets(other);

    /// <summary>True where both hold the same secrets, show the same certificate and trust the same authorities; those of delivery apart.</summary>
    public bool SameSecrets(ServiceConfiguration other) =>
        Secret.Same(BrokerPassword, other.BrokerPassword) && Secret.Same(ApiToken, other.ApiToken) && Secret.Same(OpenIdSecret, other.OpenIdSecret) && Secret.Same(SeriesToken, other.SeriesToken) && DeviceCredentials.Same(Devices, other.Devices)
        && Identity == other.Identity && Same(Authorities, other.Authorities);

    /// <summary>True where both deliver with the same secrets and trust the same authorities for it.</summary>
    public bool SameDeliverySecrets(ServiceConfiguration other) =>
        Secret.Same(MailPassword, other.MailPassword) && WebhookSecrets.Keys.SequenceEqual(other.WebhookSecrets.Keys) && WebhookSecrets.All(s => Secret.Same(s.Value, other.WebhookSecrets[s.Key]))
        && Same(MailAuthorities, other.MailAuthorities);

    private static bool Same(X509Certificate2Collection? one, X509Certificate2Collection? other) => (one ?? []).Select(c => c.Thumbprint).SequenceEqual((other ?? []).Select(c => c.Thumbprint));
}

/// <summary>What came of reading a settings file and everything it names.</summary>
internal abstract record ServiceResult
{
    private ServiceResult() { }

    /// <summary>All of it is whole.</summary>
    public sealed record Loaded(ServiceConfiguration Configuration) : ServiceResult;

    /// <summary>It is not, and every reason why; with the files to be watched for a repair.</summary>
    public sealed record Refused(ImmutableArray<InputProblem> Errors, ImmutableArray<string> Watched) : ServiceResult;
}

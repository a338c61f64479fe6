using System.Collections.Immutable;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Where messages come from: a broker that runs elsewhere, or the one in this process.</summary>
public abstract record BrokerSettings
{
    private BrokerSettings() { }

    /// <summary>A broker that runs elsewhere.</summary>
    public sealed record External : BrokerSettings
    {
        /// <summary>Name or address.</summary>
        public required string Host { get; init; }

        /// <summary>Port. Default 1883, with TLS 8883.</summary>
        public required int Port { get; init; }

        /// <summary>True to speak TLS.</summary>
        public bool Tls { get; init; }

        /// <summary>PEM file of the authorities to trust; <c>null</c>: those that this machine trusts.</summary>
        public string? CaFile { get; init; }

        /// <summary>PEM file of our own certificate, for a broker that asks for one; <c>null</c> for none.</summary>
        public string? CertificateFile { get; init; }

        /// <summary>PEM file of its private key; <c>null</c> only without a certificate.</summary>
        public string? KeyFile { get; init; }

        /// <summary>User name; <c>null</c> for none.</summary>
        public string? Username { get; init; }

        /// <summary>File whose first line is the password; <c>null</c> for none.</summary>
        public string? PasswordFile { get; init; }

        /// <summary>Start of the client ids. Default <c>axletelemetry</c>.</summary>
        public string ClientId { get; init; } = "axletelemetry";

        /// <summary>How long the broker keeps our session while we are away. Default 7 days.</summary>
        public TimeSpan SessionExpiry { get; init; } = TimeSpan.FromDays(7);

        /// <summary>The client id of a shard: each has a session of its own.</summary>
        public string ClientIdOf(string shard) => $"{ClientId}-{shard}";
    }

    /// <summary>The broker in this process.</summary>
    public sealed record Embedded : BrokerSettings
    {
        /// <summary>Where it listens when nothing is stated.</summary>
        public const string DefaultListen = "127.0.0.1:1883";

        /// <summary>Where it listens.</summary>
        public required ListenAddress Listen { get; init; }

        /// <summary>File of device names and passwords; <c>null</c> for none, then the address is a loopback one and everybody may connect.</summary>
        public string? CredentialsFile { get; init; }

        /// <summary>Who may publish for which vehicle; empty only where there are no credentials.</summary>
        public ImmutableArray<AccessRule> Access { get; init; } = [];
    }
}

/// <summary>Lets a device publish for a vehicle and read its advice.</summary>
/// <param name="Fleet">The fleet.</param>
/// <param name="User">Name of the device; <c>null</c>: the device whose name is the vehicle's id.</param>
/// <param name="Vehicle">The vehicle; <c>null</c>: every vehicle of the fleet.</param>
public sealed record AccessRule(string Fleet, string? User, string? Vehicle)
{
    /// <summary>True where this rule lets a device act for a vehicle.</summary>
    public bool Allows(string user, string fleet, string vehicle) =>
        fleet == Fleet && user == (User ?? vehicle) && (Vehicle is null || vehicle == Vehicle);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Messages.Settings;

/// <summary>
/// What the operator set for the service, checked as a whole. Immutable. Paths are as written: relative ones start at the
/// directory of the settings file. Secrets are named by their files only.
/// </summary>
public sealed record ServiceSettings
{
    /// <summary>Where the service keeps its journal.</summary>
    public required string DataDirectory { get; init; }

    /// <summary>Where messages come from.</summary>
    public required BrokerSettings Broker { get; init; }

    /// <summary>Where pages and the interface for programs are served.</summary>
    public required HttpSettings Http { get; init; }

    /// <summary>Where history is carried to; <c>null</c> for nowhere.</summary>
    public SeriesSettings? Series { get; init; }

    /// <summary>Who is told of alerts; <c>null</c> where nobody is.</summary>
    public DeliverySettings? Delivery { get; init; }

    /// <summary>The fleets, in ordinal order of their names; at least one.</summary>
    public required ImmutableArray<FleetSettings> Fleets { get; init; }

    /// <summary>The shards, in ordinal order of their names; every fleet stands in exactly one.</summary>
    public required ImmutableArray<ShardSettings> Shards { get; init; }

    /// <summary>What the service may take.</summary>
    public required Bounds Bounds { get; init; }

    /// <summary>How far a vehicle's clock may run ahead of ours. Default 60 s.</summary>
    public required TimeSpan AllowedClockSkew { get; init; }
}

/// <summary>Pages and the interface for programs.</summary>
/// <param name="Listen">Address. Default 127.0.0.1:8080.</param>
/// <param name="ApiTokenFile">File with a token for programs; <c>null</c> for none.</param>
public sealed record HttpSettings(ListenAddress Listen, string? ApiTokenFile)
{
    /// <summary>Where people reach the pages: scheme, name and port, as what speaks TLS in front of the service has it; <c>null</c>: where the service listens.</summary>
    public Uri? PublicAddress { get; init; }

    /// <summary>Pictures that the map is laid on; <c>null</c>: outlines alone, and nothing is fetched from anywhere.</summary>
    public MapTiles? MapTiles { get; init; }

    /// <summary>Somebody else's sign-in that people may come by; <c>null</c> for none.</summary>
    public OpenIdSettings? OpenId { get; init; }
}

/// <summary>Pictures of a map in squares, as servers of tiles have them: 256 by 256 pixels in the projection of EPSG:3857.</summary>
/// <param name="Url">Address with <c>{z}</c>, <c>{x}</c> and <c>{y}</c> in it.</param>
/// <param name="Attribution">Whose they are, as shown below the map.</param>
/// <param name="MostZoom">The finest level that there is.</param>
public sealed record MapTiles(string Url, string Attribution, int MostZoom);

/// <summary>A provider of OpenID Connect.</summary>
/// <param name="Name">What it is called on the page for signing in.</param>
/// <param name="Authority">Its issuer: where its configuration is found.</param>
/// <param name="ClientId">What this service is called there.</param>
/// <param name="ClientSecretFile">File whose first line is the secret that it has for this service.</param>
/// <param name="RolesClaim">The claim that says what somebody is.</param>
/// <param name="Roles">What that claim says (to the letter), for each role here.</param>
public sealed record OpenIdSettings(string Name, Uri Authority, string ClientId, string ClientSecretFile, string RolesClaim, ImmutableSortedDictionary<string, ImmutableArray<string>> Roles)
{
    /// <inheritdoc/>
    public bool Equals(OpenIdSettings? other) => other is not null && (Name, Authority, ClientId, ClientSecretFile, RolesClaim) == (other.Name, other.Authority, other.ClientId, other.ClientSecretFile, other.RolesClaim)
        && Roles.Select(r => (r.Key, string.Join('\n', r.Value))).SequenceEqual(other.Roles.Select(r => (r.Key, string.Join('\n', r.Value))));

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Authority, ClientId, ClientSecretFile, RolesClaim, Roles.Count);
}

/// <summary>An InfluxDB that history is carried to.</summary>
/// <param name="Url">Where, such as http://127.0.0.1:8086.</param>
/// <param name="Organisation">Its organisation.</param>
/// <param name="Bucket">Its bucket.</param>
/// <param name="TokenFile">File whose first line is the token.</param>
public sealed record SeriesSettings(Uri Url, string Organisation, string Bucket, string TokenFile);

/// <summary>One fleet.</summary>
public sealed record FleetSettings
{
    /// <summary>Its id in topics.</summary>
    public required string Name { get; init; }

    /// <summary>Directory of which every .json is a vehicle file.</summary>
    public required string Vehicles { get; init; }

    /// <summary>CSV files of weighbridge tickets; may be empty.</summary>
    public ImmutableArray<string> Tickets { get; init; } = [];

    /// <summary>File of limits; <c>null</c>: the shipped table of Directive 96/53/EC.</summary>
    public string? Limits { get; init; }

    /// <summary>File of assumptions that running cost is reckoned with; <c>null</c>: the shipped ones.</summary>
    public string? Assumptions { get; init; }

    /// <summary>File of whom to phone; <c>null</c> for none.</summary>
    public string? Contacts { get; init; }

    /// <summary>Files of permits; may be empty.</summary>
    public ImmutableArray<string> Permits { get; init; } = [];

    /// <summary>What is known of a trip that declares nothing itself.</summary>
    public LimitContext Trip { get; init; } = LimitContext.Undeclared;
}

/// <summary>A unit of order, of commit and of moving.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Fleets">Names of its fleets, ordinal order.</param>
public sealed record ShardSettings(string Name, ImmutableArray<string> Fleets)
{
    /// <summary>Name of the only shard where none is stated.</summary>
    public const string Main = "main";
}

/// <summary>What the service may take and how long it keeps it.</summary>
public sealed record Bounds
{
    /// <summary>Bytes taken from the broker and not yet committed. Default 64 MiB.</summary>
    public long BytesInFlight { get; init; } = 64L << 20;

    /// <summary>How long raw messages are kept. Default 90 days.</summary>
    public int RawDays { get; init; } = 90;

    /// <summary>How long the register of overloads is kept. Default 3 years.</summary>
    public int RegisterYears { get; init; } = 3;
}

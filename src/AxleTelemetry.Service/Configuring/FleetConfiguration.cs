using System.Collections.Immutable;
using System.Security.Cryptography;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// Everything the lanes need, as it held at one time. Immutable: a change is a further one, swapped in whole between two
/// inputs. It carries its own sources, so that its bytes in the journal are enough to have it again when the files are gone.
/// </summary>
internal sealed class FleetConfiguration
{
    private const int ShownDigits = 12;
    private readonly ImmutableSortedDictionary<string, ConfiguredFleet> _fleets;

    private FleetConfiguration(ConfigurationSources sources, ImmutableArray<ConfiguredFleet> fleets)
    {
        Sources = sources;
        _fleets = fleets.ToImmutableSortedDictionary(f => f.Name, f => f, StringComparer.Ordinal);
        Version = Convert.ToHexStringLower(SHA256.HashData(ToBytes()))[..ShownDigits];
    }

    /// <summary>Names this content: the first 12 digits of the SHA-256 of its canonical bytes.</summary>
    public string Version { get; }

    /// <summary>What it was made of.</summary>
    public ConfigurationSources Sources { get; }

    /// <summary>How far a vehicle's clock may run ahead of ours.</summary>
    public TimeSpan AllowedClockSkew => Sources.AllowedClockSkew;

    /// <summary>The fleets, in ordinal order of their names.</summary>
    public IEnumerable<ConfiguredFleet> Fleets => _fleets.Values;

    /// <summary>What is odd but possible.</summary>
    public ImmutableArray<InputProblem> Warnings { get; private init; } = [];

    /// <summary>A fleet by its id; <c>null</c> for one that is not configured.</summary>
    public ConfiguredFleet? Find(string fleet) => _fleets.GetValueOrDefault(fleet);

    /// <summary>Parses the sources. Never throws for what stands in them.</summary>
    public static ConfigurationResult Build(ConfigurationSources sources)
    {
        List<InputProblem> errors = [], warnings = [];
        ImmutableArray<ConfiguredFleet?> fleets = [.. sources.Fleets.Select(f => ConfiguredFleet.Build(f, errors, warnings))];
        if (errors.Count > 0) return new ConfigurationResult.Refused([.. errors]);
        return new ConfigurationResult.Built(new FleetConfiguration(sources, [.. fleets.OfType<ConfiguredFleet>()]) { Warnings = [.. warnings] });
    }

    /// <summary>The configuration of some of the fleets: what one shard needs. It has a version of its own.</summary>
    public FleetConfiguration Only(IReadOnlyCollection<string> fleets) => new(
        Sources with { Fleets = [.. Sources.Fleets.Where(f => fleets.Contains(f.Name))] },
        [.. Fleets.Where(f => fleets.Contains(f.Name))]);

    /// <summary>The canonical bytes, for the journal.</summary>
    public byte[] ToBytes() => SnapshotText.Write(Sources);

    /// <summary>The configuration of canonical bytes. Refused are bytes that are damaged, and sources that this release no longer takes.</summary>
    public static ConfigurationResult Parse(ReadOnlySpan<byte> bytes) => SnapshotText.Read(bytes, out var wrong) is { } sources
        ? Build(sources)
        : new ConfigurationResult.Refused([new("snapshot", "", "", wrong)]);
}

/// <summary>What came of building a configuration.</summary>
internal abstract record ConfigurationResult
{
    private ConfigurationResult() { }

    /// <summary>All of it is whole.</summary>
    public sealed record Built(FleetConfiguration Configuration) : ConfigurationResult;

    /// <summary>It is not, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<InputProblem> Errors) : ConfigurationResult;
}

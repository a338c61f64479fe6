using AxleTelemetry.Messages.Running;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Service.Configuring;

/// <summary>A file as it was read.</summary>
/// <param name="Name">Its path as the settings name it, with /.</param>
/// <param name="Bytes">All of it.</param>
internal sealed record SourceText(string Name, ImmutableArray<byte> Bytes)
{
    /// <summary>True for the same bytes, whatever the name.</summary>
    public bool SameBytes(SourceText other) => Bytes.AsSpan().SequenceEqual(other.Bytes.AsSpan());
}

/// <summary>Everything a fleet's configuration is made of. The shipped limits are here as text too: a later release may ship others.</summary>
internal sealed record FleetSources
{
    /// <summary>The fleet's id.</summary>
    public required string Name { get; init; }

    /// <summary>What is known of its trips.</summary>
    public required LimitContext Trip { get; init; }

    /// <summary>Vehicle files, in ordinal order of their names.</summary>
    public required ImmutableArray<SourceText> Vehicles { get; init; }

    /// <summary>Files of tickets, in ordinal order of their names.</summary>
    public required ImmutableArray<SourceText> Tickets { get; init; }

    /// <summary>The limits; with <see cref="MoreLimits"/> the first of several tables.</summary>
    public required SourceText Limits { get; init; }

    /// <summary>Further tables of limits, by country, in ordinal order of their names.</summary>
    public ImmutableArray<SourceText> MoreLimits { get; init; } = [];

    /// <summary>Files of permits, in ordinal order of their names.</summary>
    public ImmutableArray<SourceText> Permits { get; init; } = [];

    /// <summary>What running cost is reckoned with; the shipped file where the fleet has none of its own.</summary>
    public SourceText Assumptions { get; init; } = Shipped;

    /// <summary>The shipped assumptions.</summary>
    public static SourceText Shipped { get; } = new("assumptions.json", [.. AssumptionsFile.ShippedText()]);
}

/// <summary>Everything a configuration is made of.</summary>
/// <param name="AllowedClockSkew">How far a vehicle's clock may run ahead: it decides what is refused, so a replay needs it.</param>
/// <param name="Fleets">In ordinal order of their names.</param>
internal sealed record ConfigurationSources(TimeSpan AllowedClockSkew, ImmutableArray<FleetSources> Fleets);

using System.Collections.Immutable;
using AxleTelemetry.Service.Contacts;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Serving;

/// <summary>The shards, and which of them has a fleet.</summary>
internal sealed class Desks(ImmutableArray<ShardDesk> all)
{
    private readonly ImmutableDictionary<string, ShardDesk> _byFleet =
        all.SelectMany(d => d.Fleets.Select(f => (Fleet: f, Desk: d))).ToImmutableDictionary(p => p.Fleet, p => p.Desk, StringComparer.Ordinal);

    public ImmutableArray<ShardDesk> All => all;

    /// <summary>Whom to phone about which vehicle, as it is now.</summary>
    public Func<PhoneBook> Phones { get; init; } = () => PhoneBook.Empty;

    /// <summary>Who is told of alerts, and how it goes; <c>null</c> where nobody is.</summary>
    public Deliveries? Deliveries { get; init; }

    /// <summary>The shard of a fleet; <c>null</c> for one that is not configured.</summary>
    public ShardDesk? Find(string fleet) => _byFleet.GetValueOrDefault(fleet);

    /// <summary>The shard of a fleet; all of them where none is named.</summary>
    public ImmutableArray<ShardDesk> Of(string? fleet) => fleet is null ? all : Find(fleet) is { } desk ? [desk] : [];
}

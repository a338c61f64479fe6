using AxleTelemetry.Places;
using System.Collections.Immutable;
using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Prepares lanes of vehicles in their versions, each once: preparing one costs some thousand times a reading.</summary>
internal sealed class LaneSetups(ConfigurationLog log)
{
    // Enough for every combination of a large shard; beyond it all are made anew when asked for.
    private const int Most = 20_000;

    private readonly Dictionary<Key, Made> _made = [];
    private readonly FindingCatalogs _catalogs = new();

    /// <summary>The setup of vehicles in versions.</summary>
    /// <exception cref="InvalidOperationException">As they are described, these vehicles cannot be coupled.</exception>
    public LaneSetup Of(ImmutableArray<LaneMember> members) => Kept(members) switch
    {
        Made.Whole whole => whole.Setup,
        Made.Impossible impossible => throw new InvalidOperationException(impossible.Reason),
        _ => throw new InvalidOperationException("An outcome of preparing that nobody handles."),
    };

    /// <summary>Why vehicles in versions cannot be one lane; <c>null</c> where they can.</summary>
    public string? WhyNot(ImmutableArray<LaneMember> members) => Kept(members) is Made.Impossible impossible ? impossible.Reason : null;

    private Made Kept(ImmutableArray<LaneMember> members)
    {
        var key = new Key(members);
        if (_made.TryGetValue(key, out var made)) return made;
        if (_made.Count >= Most) _made.Clear();
        made = Make(members);
        _made.Add(key, made);
        return made;
    }

    private Made Make(ImmutableArray<LaneMember> members)
    {
        if (Described(members[0]) is null) return new Made.Impossible($"'{members[0].Vehicle.Id}' is not described.");
        var vehicles = StandInTrailer.Fill([.. members.Select(m => (m.Vehicle.Id, Described(m)))]);
        // A stand-in has no sensors: of its fleet, that it may have come to later, nothing is asked.
        ImmutableArray<(LaneMember Member, ConfiguredFleet Fleet, VehicleDescription Vehicle)> parts = [.. members.Zip(vehicles).Select(m => (m.First, FleetOf(m.Second.IsStandIn ? members[0] : m.First)!, m.Second))];
        return Combination.Couple(parts.Select(p => p.Vehicle)) switch
        {
            CouplingResult.Coupled coupled when LaneLaw.WhyNot(coupled.Combination, parts[0].Fleet.Permits) is { } tooMany => new Made.Impossible(tooMany),
            CouplingResult.Coupled coupled => new Made.Whole(Prepare(coupled.Combination, parts)),
            CouplingResult.Impossible impossible => new Made.Impossible(impossible.Reason),
            _ => throw new InvalidOperationException("An outcome of coupling that nobody handles."),
        };
    }

    private LaneSetup Prepare(Combination combination, ImmutableArray<(LaneMember Member, ConfiguredFleet Fleet, VehicleDescription Vehicle)> parts)
    {
        var first = parts[0].Fleet;
        return new LaneSetup(combination, [.. parts.Where(p => !p.Vehicle.IsStandIn).SelectMany(p => p.Fleet.FitsOf(p.Vehicle, VehicleVersions.AgedAt(p.Member.Version, p.Member.Vehicle, log)))],
            LaneLaw.ByPlace(combination, first.Book, first.Trip, CountryMap.Shipped, first.Permits), _catalogs) { Terms = first.Terms };
    }

    private ConfiguredFleet? FleetOf(LaneMember member) => log.Number(VehicleVersions.Configuration(member.Version)).Configuration.Find(member.Vehicle.Fleet);

    private VehicleDescription? Described(LaneMember member) => FleetOf(member)?.Roster.Find(member.Vehicle.Id)?.Vehicle;

    /// <summary>What came of preparing.</summary>
    private abstract record Made
    {
        private Made() { }

        /// <summary>A lane.</summary>
        public sealed record Whole(LaneSetup Setup) : Made;

        /// <summary>As they are described, these vehicles are none.</summary>
        public sealed record Impossible(string Reason) : Made;
    }

    private readonly struct Key(ImmutableArray<LaneMember> members) : IEquatable<Key>
    {
        private readonly ImmutableArray<LaneMember> _members = members;

        public bool Equals(Key other) => _members.AsSpan().SequenceEqual(other._members.AsSpan());

        public override bool Equals(object? obj) => obj is Key other && Equals(other);

        public override int GetHashCode()
        {
            var hash = default(HashCode);
            foreach (ref readonly var member in ImmutableCollectionsMarshal.AsArray(_members).AsSpan()) hash.Add(member);
            return hash.ToHashCode();
        }
    }
}

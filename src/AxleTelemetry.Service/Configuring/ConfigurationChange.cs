using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Service.Configuring;

/// <summary>What is different between two configurations, in words.</summary>
/// <param name="From">Version before.</param>
/// <param name="To">Version after.</param>
/// <param name="Items">What counts, fleet after fleet; empty where only comments, layout or names of files changed.</param>
internal sealed record ConfigurationChange(string From, string To, ImmutableArray<ChangeItem> Items)
{
    private static readonly JsonDocumentOptions Reading = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    /// <summary>True where the two are the same, text for text.</summary>
    public bool IsNone => From == To;

    /// <summary>A sentence for each item.</summary>
    public IEnumerable<string> Sentences => Items.IsEmpty && !IsNone
        ? ["Only comments, layout or names of files changed."]
        : Items.Select(item => item.ToString());

    /// <summary>Compares two configurations.</summary>
    public static ConfigurationChange Between(FleetConfiguration before, FleetConfiguration after)
    {
        var items = ImmutableArray.CreateBuilder<ChangeItem>();
        if (before.AllowedClockSkew != after.AllowedClockSkew) items.Add(new ChangeItem.ClockSkew(before.AllowedClockSkew, after.AllowedClockSkew));
        foreach (var name in before.Fleets.Concat(after.Fleets).Select(f => f.Name).Distinct().Order(StringComparer.Ordinal))
        {
            if (after.Find(name) is not { } now) items.Add(new ChangeItem.FleetRemoved(name));
            else if (before.Find(name) is not { } then) items.Add(new ChangeItem.FleetAdded(name, now.Vehicles.Length));
            else AddFleet(items, (then, now), (Source(before, name), Source(after, name)));
        }

        return new(before.Version, after.Version, items.ToImmutable());
    }

    /// <inheritdoc/>
    public override string ToString() => IsNone ? $"Configuration {To} is unchanged." : $"Configuration {From} -> {To}: {string.Join(' ', Sentences)}";

    private static void AddFleet(ImmutableArray<ChangeItem>.Builder items, (ConfiguredFleet Then, ConfiguredFleet Now) fleet, (FleetSources Then, FleetSources Now) sources)
    {
        var name = fleet.Now.Name;
        var (then, now) = (ById(fleet.Then), ById(fleet.Now));
        items.AddRange(now.Keys.Except(then.Keys).Order(StringComparer.Ordinal).Select(id => new ChangeItem.VehicleAdded(name, id)));
        items.AddRange(then.Keys.Except(now.Keys).Order(StringComparer.Ordinal).Select(id => new ChangeItem.VehicleRemoved(name, id)));
        items.AddRange(now.Keys.Where(id => then.TryGetValue(id, out var old) && !Same(old, now[id])).Order(StringComparer.Ordinal).Select(id => new ChangeItem.VehicleChanged(name, id)));
        items.AddRange(CalibrationChanges.Between(fleet.Then, fleet.Now));
        if (!Same(sources.Then.Assumptions, sources.Now.Assumptions)) items.Add(new ChangeItem.AssumptionsChanged(name));
        if (!SameAll([sources.Then.Limits, .. sources.Then.MoreLimits], [sources.Now.Limits, .. sources.Now.MoreLimits])) items.Add(new ChangeItem.LimitsChanged(name, Say(fleet.Then), Say(fleet.Now)));
        items.AddRange(Permits(name, fleet.Then.Permits, fleet.Now.Permits));
        if (fleet.Then.Trip != fleet.Now.Trip) items.Add(new ChangeItem.TripChanged(name, fleet.Then.Trip, fleet.Now.Trip));
    }

    private static IEnumerable<ChangeItem> Permits(string fleet, ImmutableArray<Permit> then, ImmutableArray<Permit> now) =>
        then.Concat(now).Select(p => p.Id).Distinct().Order(StringComparer.Ordinal).Select(id => (Id: id, Then: then.FirstOrDefault(p => p.Id == id), Now: now.FirstOrDefault(p => p.Id == id)))
            .Select(p => p switch
            {
                (_, null, _) => new ChangeItem.PermitChanged(fleet, p.Id, "added"),
                (_, _, null) => new ChangeItem.PermitChanged(fleet, p.Id, "removed"),
                var (_, before, after) => before.IsSame(after) ? null : new ChangeItem.PermitChanged(fleet, p.Id, "changed"),
            }).OfType<ChangeItem>();

    // Comments and layout do not count; what is the same JSON describes the same vehicle.
    private static bool Same(SourceText one, SourceText other) => one.SameBytes(other) || JsonNode.DeepEquals(Json(one), Json(other));

    private static bool SameAll(ImmutableArray<SourceText> then, ImmutableArray<SourceText> now) =>
        then.Length == now.Length && then.Zip(now).All(t => Same(t.First, t.Second));

    private static JsonNode? Json(SourceText text)
    {
        var bytes = text.Bytes.AsSpan();
        return JsonNode.Parse(bytes.StartsWith("\uFEFF"u8) ? bytes[3..] : bytes, documentOptions: Reading);
    }

    private static string Say(ConfiguredFleet fleet) => FormattableString.Invariant($"{fleet.Limits.Id} of {fleet.Limits.AsOf:yyyy-MM-dd}")
        + (fleet.Book.Sets.Length is > 1 and var tables ? FormattableString.Invariant($" and {tables - 1} more by country") : "");

    private static Dictionary<string, SourceText> ById(ConfiguredFleet fleet) => fleet.Vehicles.ToDictionary(v => v.Description.Id, v => v.Source, StringComparer.Ordinal);

    private static FleetSources Source(FleetConfiguration configuration, string fleet) => configuration.Sources.Fleets.Single(f => f.Name == fleet);
}

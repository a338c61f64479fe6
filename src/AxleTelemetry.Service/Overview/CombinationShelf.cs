using System.Collections.Concurrent;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Overview;

/// <summary>Combinations of the vehicles of one configuration, to name parts by; kept, as the same ones are asked for again and again. For any thread.</summary>
internal sealed class CombinationShelf(FleetConfiguration configuration)
{
    private const int Most = 10_000;
    private readonly ConcurrentDictionary<string, Combination?> _kept = new(StringComparer.Ordinal);

    public FleetConfiguration Configuration => configuration;

    /// <summary>The combination of a fleet's vehicles, powered one first; <c>null</c> where one is not described any more, or they do not couple.</summary>
    public Combination? Of(string fleet, IEnumerable<string> ids)
    {
        string[] all = [.. ids];
        if (_kept.Count > Most) _kept.Clear();
        return _kept.GetOrAdd($"{fleet}/{string.Join('/', all)}", _ => Make(fleet, all));
    }

    private Combination? Make(string fleet, string[] ids)
    {
        var vehicles = configuration.Find(fleet)?.Vehicles.Select(v => v.Description).Where(v => ids.Contains(v.Id, StringComparer.Ordinal)).ToDictionary(v => v.Id, StringComparer.Ordinal);
        if (vehicles is null || ids.Length == 0 || ids.Any(id => !vehicles.ContainsKey(id))) return null;
        return Combination.Couple(ids.Select(id => vehicles[id])) is CouplingResult.Coupled coupled ? coupled.Combination : null;
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Watching;

/// <summary>The fleets that were heard of. Nobody says beforehand what they are called: one is known from the first message of a described vehicle on.</summary>
internal sealed class WatchedFleets(Shard shard, FleetFiles files, ImmutableDictionary<string, ImmutableArray<string>> coupled)
{
    // A broker full of names must not have the vehicles read again and again.
    private const int Most = 100;

    private readonly SortedSet<string> _names = new(StringComparer.Ordinal);
    private readonly HashSet<string> _ids = [.. files.Vehicles.Select(v => v.Id)];

    /// <summary>True once the shard has a configuration.</summary>
    public bool Any { get; private set; }

    /// <summary>Looks at the topic of a message that is to be taken next. True where the shard has something to write first.</summary>
    public bool Know(string topic, Moment now)
    {
        var fresh = Topic.Parse(topic) is TopicResult.Named { Topic: var named } && _ids.Contains(named.Vehicle) && _names.Count < Most && _names.Add(named.Fleet)
            ? named.Fleet : null;
        if (Any && fresh is null) return false;
        shard.Configure(files.Of(_names), now);
        Any = true;
        if (fresh is not null) Couple(fresh);
        return true;
    }

    private void Couple(string fleet)
    {
        foreach (var (powered, trailers) in coupled.OrderBy(c => c.Key, StringComparer.Ordinal))
            shard.State.History.Take(new CouplingStatement(new(fleet, powered), FleetHistory.Beginning, [.. trailers.Select(t => new VehicleName(fleet, t))]));
    }
}

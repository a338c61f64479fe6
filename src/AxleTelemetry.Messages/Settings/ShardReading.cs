using System.Collections.Immutable;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>Reads the shards, and holds that every fleet belongs to exactly one: else a tractor and its trailer might never meet.</summary>
internal sealed class ShardReading(Problems problems)
{
    private readonly Dictionary<string, string> _taken = new(StringComparer.Ordinal);

    // The data directory has a file of the name of each shard, and these beside them.
    private static readonly ImmutableArray<string> Taken = ["people", "delivery"];

    /// <summary>The shards; one with every fleet where none is written.</summary>
    public ImmutableArray<ShardSettings> Read(Node root)
    {
        var names = new FleetNames(root, problems);
        if (!root.Has("shards")) return [new ShardSettings(ShardSettings.Main, Ordered(names.All))];
        var shards = root.NamedTexts("shards");
        foreach (var (fleet, path) in shards.SelectMany(s => s.Texts)) Take(names, fleet, path);
        foreach (var (name, path, _) in shards.Where(s => Taken.Contains(s.Name)))
            problems.Add(ProblemKind.BadText, path, $"'{name}'", "The service keeps something else in a file of that name: choose another.");
        // A fault among the shards may hide the one that lists the fleet.
        if (!problems.AnyErrorUnder(root.PathOf("shards")))
            foreach (var fleet in names.All.Where(fleet => !_taken.ContainsKey(fleet)))
                problems.Add(ProblemKind.InNoShard, root.PathOf("shards"), "", $"The fleet '{fleet}' stands in no shard. With 'shards' written, each fleet stands in exactly one.");
        return [.. shards.Select(s => new ShardSettings(s.Name, Ordered(s.Texts.Select(t => t.Text)))).OrderBy(s => s.Name, StringComparer.Ordinal)];
    }

    private void Take(FleetNames names, string fleet, string path)
    {
        if (names.Refer(fleet, path) && !_taken.TryAdd(fleet, path))
            problems.Add(ProblemKind.InTwoShards, path, $"'{fleet}'", $"Each fleet stands in exactly one shard, once; this one stands at {_taken[fleet]} too.");
    }

    private static ImmutableArray<string> Ordered(IEnumerable<string> names) => [.. names.Order(StringComparer.Ordinal)];
}

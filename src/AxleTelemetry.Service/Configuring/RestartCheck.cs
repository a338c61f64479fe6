using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Which properties of the settings changed that a running service cannot take on; of delivery <see cref="RecipientChange"/> says it.</summary>
internal static class RestartCheck
{
    public static ImmutableArray<string> Run(ServiceConfiguration before, ServiceConfiguration after)
    {
        var (then, now) = (before.Settings, after.Settings);
        var changed = ImmutableArray.CreateBuilder<string>();
        if (before.DataDirectory != after.DataDirectory) changed.Add("data_directory");
        if (!Same(then.Broker, now.Broker)) changed.Add(now.Broker is BrokerSettings.External ? "broker" : "embedded_broker");
        if (then.Series != now.Series) changed.Add("series");
        if (then.Http != now.Http) changed.Add("http");
        if (!before.SameSecrets(after)) changed.Add("secrets");
        if (!Same(then.Shards, now.Shards)) changed.Add("shards");
        if (then.Bounds != now.Bounds) changed.Add("bounds");
        return changed.ToImmutable();
    }

    private static bool Same(BrokerSettings one, BrokerSettings other) => (one, other) switch
    {
        (BrokerSettings.Embedded a, BrokerSettings.Embedded b) => a.Listen.Equals(b.Listen) && a.CredentialsFile == b.CredentialsFile && a.Access.SequenceEqual(b.Access),
        _ => one == other,
    };

    // A fleet that comes or goes is taken in stride; one that would have to move to another shard is not.
    private static bool Same(ImmutableArray<ShardSettings> before, ImmutableArray<ShardSettings> after)
    {
        var shardOf = before.SelectMany(s => s.Fleets.Select(f => (f, s.Name))).ToDictionary(StringComparer.Ordinal);
        return before.Select(s => s.Name).SequenceEqual(after.Select(s => s.Name))
            && after.All(s => s.Fleets.All(f => shardOf.GetValueOrDefault(f, s.Name) == s.Name));
    }
}

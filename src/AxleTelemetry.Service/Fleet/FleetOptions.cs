using System.Collections.Immutable;

namespace AxleTelemetry.Service.Fleet;

/// <summary>What an operator may set about following a fleet.</summary>
internal sealed record FleetOptions
{
    /// <summary>
    /// How long a reading waits for others that belong before it. Default 30 s: devices gather samples for ten or twenty
    /// seconds in one stream and send another at once.
    /// </summary>
    public TimeSpan Wait { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How far a vehicle's clock may run ahead of ours. Default 60 s.</summary>
    public TimeSpan AllowedSkew { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>Trailers behind powered vehicles that say nothing of their coupling, by the id of the powered one.</summary>
    public ImmutableDictionary<string, ImmutableArray<string>> Coupled { get; init; } = ImmutableDictionary<string, ImmutableArray<string>>.Empty;
}

using System.Collections.Immutable;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>A haulier that nobody has heard of.</summary>
/// <param name="Id">Its fleet's id in topics.</param>
/// <param name="Name">Its name.</param>
/// <param name="Home">The country of its depot.</param>
/// <param name="Letters">How its vehicles' ids begin.</param>
public sealed record Haulier(string Id, string Name, string Home, string Letters)
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<Haulier> All { get; } =
    [
        new("ostrel", "Ostrel and Daughters, Cartage", "Marvenia", "O"),
        new("tilvane", "Tilvane Bulk and General", "Kelvaria", "T"),
        new("hrumad", "Hrumad Carriers' Cooperative", "Sundmark", "H"),
    ];
}

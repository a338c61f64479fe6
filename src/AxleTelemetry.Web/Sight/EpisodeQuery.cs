using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Web.Sight;

/// <summary>Which episodes are asked for. What is not set does not narrow.</summary>
public sealed record EpisodeQuery
{
    /// <summary>Most that are given.</summary>
    public const int Most = 5_000;

    /// <summary>Most that are looked at in a shard.</summary>
    public const int MostLooked = 100_000;

    public VehicleName? Vehicle { get; init; }

    /// <summary>Beginning of the span that they meet.</summary>
    public Moment? From { get; init; }

    /// <summary>End of the span that they meet.</summary>
    public Moment? To { get; init; }

    /// <summary>Only overloads.</summary>
    public bool OverloadsOnly { get; init; }

    /// <summary>Whether one is among those that are looked for.</summary>
    public Func<EpisodeLine, bool> Fits { get; init; } = _ => true;
}

/// <summary>Episodes that were found.</summary>
/// <param name="Lines">Newest first; at most <see cref="EpisodeQuery.Most"/>.</param>
/// <param name="Looked">How many of the span were looked at.</param>
/// <param name="BackTo">Since when; <c>null</c> where that is all of the span: else it holds more than is looked at, or given, at once.</param>
public sealed record EpisodesFound(ImmutableArray<EpisodeLine> Lines, int Looked, Moment? BackTo);

using System.Collections.Immutable;

namespace AxleTelemetry.Web.Sight;

/// <summary>The register of episodes. For any thread.</summary>
public interface IRegisterSight
{
    /// <summary>Episodes of a whole span, as far as the bounds of <see cref="EpisodeQuery"/> reach.</summary>
    Task<EpisodesFound> ReadAsync(EpisodeQuery query, CancellationToken cancel);

    /// <summary>The same episodes with whom they reached.</summary>
    Task<EpisodeLine[]> WithContactsAsync(EpisodeLine[] lines, CancellationToken cancel);

    /// <summary>What was told of an episode and to whom, and what was done about it, oldest first; each in a sentence with its moment.</summary>
    Task<ImmutableArray<ToldLine>> ToldAsync(EpisodeLine episode, CancellationToken cancel);
}

/// <summary>Something that happened to an alert.</summary>
/// <param name="At">When.</param>
/// <param name="Sentence">What.</param>
public readonly record struct ToldLine(Domain.Quantities.Moment At, string Sentence);

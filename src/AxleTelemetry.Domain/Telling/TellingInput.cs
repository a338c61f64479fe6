using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>Something that became known. Positions rise; an input at or before the last one taken changes nothing.</summary>
/// <param name="Position">Its place in the shard's log.</param>
/// <param name="At">When it became known: the moment of its first commit.</param>
public abstract record TellingInput(LogPosition Position, Moment At)
{
    /// <summary>An episode began, rose, fell or ended as the lane went on.</summary>
    public sealed record Said(LogPosition Position, Moment At, VehicleName Vehicle, LaneOutput.Episode Episode) : TellingInput(Position, At);

    /// <summary>The history of a vehicle was corrected.</summary>
    /// <param name="Position">Its place in the shard's log.</param>
    /// <param name="At">When it became known.</param>
    /// <param name="Vehicle">Whose.</param>
    /// <param name="From">Beginning of the corrected stretch.</param>
    /// <param name="InForce">Every episode that now holds at or after that, open ones included.</param>
    public sealed record Corrected(LogPosition Position, Moment At, VehicleName Vehicle, Moment From, ImmutableArray<EpisodeInForce> InForce)
        : TellingInput(Position, At)
    {
        /// <summary>What was found of them the last time while they held, as far as it is known: to be said in full with its remedy.</summary>
        public ImmutableDictionary<(FindingKey Key, Moment Since), LaneOutput.Episode> Findings { get; init; } = ImmutableDictionary<(FindingKey, Moment), LaneOutput.Episode>.Empty;

        /// <summary>The finding of an episode, as of one that nobody was told of yet; <c>null</c> where it is not known.</summary>
        internal LaneOutput.Episode? FindingOf(ToldEpisode episode) =>
            episode.Subject.Finding is { } key && Findings.TryGetValue((key, episode.Since), out var found) ? found with { Change = EpisodeChange.Opened } : null;
    }

    /// <summary>A person did something.</summary>
    public sealed record Acted(LogPosition Position, Moment At, AlertId Alert, OperatorAction Action) : TellingInput(Position, At);

    /// <summary>An alert reached somebody, or was given up on the way to him. The same contact twice is one.</summary>
    public sealed record Contacted(LogPosition Position, Moment At, AlertId Alert, Contact Contact) : TellingInput(Position, At);

    /// <summary>A vehicle was heard. One per vehicle and batch is enough.</summary>
    public sealed record Heard(LogPosition Position, Moment At, VehicleName Vehicle) : TellingInput(Position, At);

    /// <summary>Time went on.</summary>
    public sealed record Tick(LogPosition Position, Moment At) : TellingInput(Position, At);
}

/// <summary>An episode of the history in force.</summary>
/// <param name="Key">What was found.</param>
/// <param name="Since">When it began.</param>
/// <param name="Ended">When it ended; <c>null</c> while it holds.</param>
/// <param name="Level">Level it has, or had last.</param>
/// <param name="Highest">Highest level it reached.</param>
/// <param name="Standing">Standing of its limit; a law where there is none.</param>
/// <param name="ToldWith">The finding it is told with; <c>null</c> where it is told by itself.</param>
public sealed record EpisodeInForce(
    FindingKey Key, Moment Since, Moment? Ended, Level Level, Level Highest, MarginStanding Standing, FindingKey? ToldWith = null)
{
    internal ToldEpisode Told => new(new AlertSubject(Key), Since, Level, Highest, Standing, Ended);
}

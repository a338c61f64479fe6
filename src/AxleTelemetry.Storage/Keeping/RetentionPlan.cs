using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Keeping;

/// <summary>What may go. A journal has no clock: moments are those of now less the time that something is kept.</summary>
public sealed record RetentionPlan
{
    /// <summary>Inputs whose samples all lie before may go, unless pinned.</summary>
    public required Moment InputsBefore { get; init; }

    /// <summary>What was told before may go.</summary>
    public required Moment TellingBefore { get; init; }

    /// <summary>Rows of history of a kind with a time before may go; kinds that are not named stay.</summary>
    public ImmutableDictionary<RowKind, Moment> HistoryBefore { get; init; } = ImmutableDictionary<RowKind, Moment>.Empty;

    /// <summary>What stays all the same.</summary>
    public required Pins Pins { get; init; }
}

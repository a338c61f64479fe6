using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Overview;

/// <summary>A vehicle with all that is counted of it.</summary>
internal sealed record VehicleDetail
{
    public required Moment At { get; init; }

    public required VehicleDocument Overview { get; init; }

    /// <summary>What is aboard of each vehicle that carries payload.</summary>
    public required ImmutableArray<PayloadDocument> Payloads { get; init; }

    /// <summary>Why figures are withheld or of an earlier moment.</summary>
    public required ImmutableArray<WithheldDocument> Withheld { get; init; }

    public required ReadingsDocument Readings { get; init; }

    public required MessagesDocument Messages { get; init; }

    /// <summary>What was refused since the start, by reason in words.</summary>
    public required ImmutableSortedDictionary<string, long> Refused { get; init; }

    public required ImmutableArray<string> Cautions { get; init; }

    public static VehicleDetail Of(VehicleState state, VehicleRefusals refusals, Moment at) => new()
    {
        At = at,
        Overview = VehicleWriting.Of(state),
        Payloads = [.. (state.View?.Payloads ?? []).Select(p => new PayloadDocument(p.Body.Vehicle.Id, Interval.Of(p.Load)))],
        Withheld = [.. (state.View?.Withheld ?? []).Select(w => new WithheldDocument(JsonText.Word(w), UnitText.Reason(w)))],
        Readings = new(state.Readings.Taken, state.Readings.Repeated, state.Readings.Conflicting, state.Readings.Late, state.Readings.TooLate),
        Messages = MessagesDocument.Of(state.Counts),
        Refused = refusals.Counts.ToImmutableSortedDictionary(p => RefusalWords.Of(p.Key), p => p.Value, StringComparer.Ordinal),
        Cautions = Serving.Cautions.Loads,
    };
}

internal sealed record PayloadDocument(string Vehicle, Interval PayloadKg);

internal sealed record WithheldDocument(string Reason, string Words);

/// <summary>What became of readings.</summary>
/// <param name="Taken">New ones, in time or late.</param>
/// <param name="Repeated">Come before.</param>
/// <param name="Conflicting">Come before with another value.</param>
/// <param name="Late">Of those taken, late.</param>
/// <param name="TooLate">Too late to be taken.</param>
internal sealed record ReadingsDocument(long Taken, long Repeated, long Conflicting, long Late, long TooLate);

/// <summary>What was counted of messages.</summary>
/// <param name="Received">Messages.</param>
/// <param name="Gaps">Running numbers missing.</param>
/// <param name="CouplingsRefused">Couplings that cannot be.</param>
internal sealed record MessagesDocument(long Received, long Gaps, long CouplingsRefused)
{
    public static MessagesDocument Of(VehicleCounts counts) => new(counts.Messages, counts.Gaps, counts.CouplingsRefused);
}

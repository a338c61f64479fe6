using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Telling;

/// <summary>Where an alert stands.</summary>
/// <param name="Code">For programs: one of <see cref="Codes"/>.</param>
/// <param name="Words">For people, in the words of ISA-18.2.</param>
/// <param name="Behind">The state behind what suppresses it; the same where nothing does.</param>
internal sealed record StateDocument(string Code, string Words, string Behind)
{
    /// <summary>Every code.</summary>
    public static readonly IReadOnlyList<string> Codes =
    [
        "unacknowledged", "acknowledged", "returned_unacknowledged", "returned_unstated", "shelved", "suppressed_by_design", "out_of_service", "normal",
    ];

    /// <summary>Who brought it there; absent where no person did.</summary>
    public string? Who { get; init; }

    /// <summary>Since when; absent where the state does not say.</summary>
    public Moment? At { get; init; }

    /// <summary>Why: a person's words, or how it closed.</summary>
    public string? Reason { get; init; }

    /// <summary>When it comes back from the shelf.</summary>
    public Moment? Until { get; init; }

    public static StateDocument Of(AlertState state)
    {
        var plain = new StateDocument(CodeOf(state), AlertSentences.State(state), CodeOf(state.Behind()));
        return state switch
        {
            AlertState.Unacknowledged => plain,
            AlertState.Acknowledged held => plain with { Who = held.By.Who, At = held.By.At },
            AlertState.ReturnedUnacknowledged back => plain with { At = back.At },
            AlertState.Unstated owed => plain with { Who = owed.By.Who, At = owed.At },
            AlertState.Normal normal => plain with { At = normal.At, Reason = JsonText.Word(normal.As) },
            AlertState.Shelved shelf => plain with { Who = shelf.By.Who, At = shelf.By.At, Reason = shelf.Reason, Until = shelf.Until },
            AlertState.SuppressedByDesign quiet => plain with { Reason = JsonText.Word(quiet.Why) },
            AlertState.OutOfService away => plain with { Who = away.By.Who, At = away.By.At, Reason = away.Reason },
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
    }

    private static string CodeOf(AlertState state) => state switch
    {
        AlertState.Unacknowledged => "unacknowledged",
        AlertState.Acknowledged => "acknowledged",
        AlertState.ReturnedUnacknowledged => "returned_unacknowledged",
        AlertState.Unstated => "returned_unstated",
        AlertState.Shelved => "shelved",
        AlertState.SuppressedByDesign => "suppressed_by_design",
        AlertState.OutOfService => "out_of_service",
        AlertState.Normal => "normal",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };
}

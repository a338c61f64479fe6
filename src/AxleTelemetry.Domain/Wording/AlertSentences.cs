using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>Alerts in words: their states in those of ISA-18.2 / IEC 62682, and a vehicle that is not heard.</summary>
public static class AlertSentences
{
    /// <summary>The state, for a column.</summary>
    public static string State(AlertState state) => state switch
    {
        AlertState.Unacknowledged => "unacknowledged",
        AlertState.Acknowledged => "acknowledged",
        AlertState.ReturnedUnacknowledged => "returned to normal, unacknowledged",
        AlertState.Unstated => "returned to normal, what was done is not stated",
        AlertState.Normal { As: ClosedAs.Corrected } => "normal, corrected",
        AlertState.Normal => "normal",
        AlertState.Shelved => "shelved",
        AlertState.SuppressedByDesign => "suppressed by design",
        AlertState.OutOfService => "out of service",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };

    /// <summary>A vehicle that is silent longer than its habit.</summary>
    /// <param name="vehicle">Which.</param>
    /// <param name="silent">For how long.</param>
    /// <param name="usual">Its longest usual silence; <c>null</c> where it is not known yet.</param>
    public static string Silent(VehicleName vehicle, TimeSpan silent, TimeSpan? usual)
    {
        var habit = usual is { } known ? $"Its longest usual silence is {Span(known)}." : "How often it reports is not known yet.";
        return $"{vehicle.Id} has not been heard for {Span(silent)}. {habit} Look at its unit and its coverage.";
    }

    private static string Span(TimeSpan span) => span.TotalHours >= 48
        ? FormattableString.Invariant($"{span.Days} d {span.Hours} h")
        : span.TotalHours >= 1 ? FormattableString.Invariant($"{(int)span.TotalHours} h {span.Minutes} min") : FormattableString.Invariant($"{span.Minutes} min");
}

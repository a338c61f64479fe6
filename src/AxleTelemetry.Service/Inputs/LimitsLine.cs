using AxleTelemetry.Domain.Limits;
using static System.FormattableString;

namespace AxleTelemetry.Service.Inputs;

/// <summary>By which limits loads are judged, with edition and trip: to stand at the head of every answer that holds a limit.</summary>
internal static class LimitsLine
{
    /// <summary>One sentence.</summary>
    public static string Of(LimitSet set, LimitContext context)
    {
        var trip = context.Trip switch
        {
            TripKind.National => "national trip",
            TripKind.International => "international trip",
            TripKind.Unknown => "trip not declared, so the stricter holds",
            _ => throw new InvalidOperationException("A trip that nobody handles."),
        };
        var intermodal = context.Intermodal ? ", intermodal" : "";
        return Invariant($"Limits: {set.Title}, edition of {set.AsOf:yyyy-MM-dd}{Status(set.Status)}, and the vehicles' papers; {trip}{intermodal}.");
    }

    private static string Status(LimitStatus status) => status switch
    {
        LimitStatus.InForce or LimitStatus.VehiclePapers => "",
        LimitStatus.UnverifiedEdition => " (not verified)",
        LimitStatus.KnownOutdated => " (known to be outdated)",
        _ => throw new InvalidOperationException("A status of limits that nobody handles."),
    };
}

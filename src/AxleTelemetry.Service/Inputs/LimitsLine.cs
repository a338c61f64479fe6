using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using static System.FormattableString;

namespace AxleTelemetry.Service.Inputs;

/// <summary>By which limits loads are judged, with edition and trip: to stand at the head of every answer that holds a limit.</summary>
internal static class LimitsLine
{
    /// <summary>One sentence.</summary>
    public static string Of(LimitSet set, LimitContext context) => Of(LimitStack.Of(set), context, []);

    /// <summary>One sentence of tables one over another, with permits over them.</summary>
    public static string Of(LimitStack stack, LimitContext context, ImmutableArray<Permit> permits)
    {
        var trip = context.Trip switch
        {
            TripKind.National => "national trip",
            TripKind.International => "international trip",
            TripKind.Unknown => "trip not declared, so the stricter holds",
            _ => throw new InvalidOperationException("A trip that nobody handles."),
        };
        var intermodal = context.Intermodal ? ", intermodal" : "";
        var tables = string.Join(", over ", ((LimitSet[])[stack.Top(context.Trip), stack.Base]).Distinct().Select(set => Invariant($"{set.Title}, edition of {set.AsOf:yyyy-MM-dd}{Status(set.Status)}")));
        var permitted = permits.IsEmpty ? "" : $"; permit {string.Join(", ", permits.Select(p => Invariant($"{p.Id} ({string.Join(' ', p.Countries)}, until {p.Until:yyyy-MM-dd})")))}";
        return Invariant($"Limits: {tables}, and the vehicles' papers{permitted}; {trip}{intermodal}.");
    }

    private static string Status(LimitStatus status) => status switch
    {
        LimitStatus.InForce or LimitStatus.VehiclePapers or LimitStatus.Permit => "",
        LimitStatus.UnverifiedEdition => " (not verified)",
        LimitStatus.KnownOutdated => " (known to be outdated)",
        _ => throw new InvalidOperationException("A status of limits that nobody handles."),
    };
}

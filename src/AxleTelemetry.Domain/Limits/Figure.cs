using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>The figure that a table gives for one thing, with the rule that gives it.</summary>
internal sealed record Figure(double Kilograms, LimitRule Rule, string Note)
{
    /// <summary>What was not declared, and what is done about it.</summary>
    public const string TripUndeclared = "The trip is not declared national or international: the stricter holds.";

    /// <summary>
    /// Chooses among rules that fit in all but the trip, whose kind is known. <paramref name="nearest"/> are rules for more axles, of which the
    /// lowest stands in where no permit fits: fewer axles on the road never permit more.
    /// </summary>
    public static Figure? Choose(IReadOnlyList<MassRule> fitting, IReadOnlyList<MassRule> nearest, RoadBody owner, TripKind trip)
    {
        var figure = Permitted(fitting, trip)?.Plus(fitting, owner.Vehicle.Energy, trip) ?? Nearest(nearest, trip);
        foreach (var rule in fitting.Where(r => r.Trips.Covers(trip)))
            if (CapOf(rule.Effect, owner.Span) is { } cap && (figure is null || cap < figure.Kilograms))
                figure = new Figure(cap, rule, rule.Note);
        return figure;
    }

    public Figure With(string note) => this with { Note = Join(Note, note) };

    public static string Join(string first, string second) =>
        first.Length == 0 ? second : second.Length == 0 ? first : $"{first} {second}";

    private static Figure? Permitted(IReadOnlyList<MassRule> rules, TripKind trip)
    {
        Figure? best = null;
        foreach (var rule in rules.Where(r => r.Trips.Covers(trip)))
            if (rule.Effect is RuleEffect.Permit permit && (best is null || permit.Most.Kilograms > best.Kilograms))
                best = new Figure(permit.Most.Kilograms, rule, rule.Note);
        return best;
    }

    private static Figure? Nearest(IReadOnlyList<MassRule> rules, TripKind trip)
    {
        Figure? least = null;
        foreach (var rule in rules.Where(r => r.Trips.Covers(trip)))
            if (rule.Effect is RuleEffect.Permit permit && (least is null || permit.Most.Kilograms < least.Kilograms))
                least = new Figure(permit.Most.Kilograms, rule, "The table has no row for these axles: its lowest row for more axles holds.");
        return least;
    }

    private Figure Plus(IReadOnlyList<MassRule> rules, DriveEnergy energy, TripKind trip)
    {
        var sum = this;
        foreach (var rule in rules.Where(r => r.Trips.Covers(trip)))
        {
            if (rule.Effect is not RuleEffect.Add add || add.Energy != energy.Kind) continue;
            var extra = Math.Clamp(energy.ExtraMass.Kilograms, 0, add.UpTo.Kilograms);
            if (extra > 0)
                sum = (sum with { Kilograms = sum.Kilograms + extra }).With($"With {LimitText.Kilograms(extra)} for the drive's technology ({rule.Clause}).");
        }

        return sum;
    }

    // Distances are known to the millimetre; rounding keeps 6.0 m x 5 t at 30.0 t.
    private static double? CapOf(RuleEffect effect, Length span) => effect switch
    {
        RuleEffect.Cap cap => cap.Most.Kilograms,
        RuleEffect.CapPerMetre cap => cap.KilogramsPerMetre * Math.Round(span.Metres * 1000) / 1000,
        RuleEffect.Permit or RuleEffect.Add => null,
        _ => throw new ArgumentOutOfRangeException(nameof(effect), effect, "Unknown effect."),
    };
}

using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Limits;

/// <summary>Limits in words, for people.</summary>
public static class LimitText
{
    /// <summary>A table of the limits of a combination in a configuration: name, limit, standing, source; then what is not limited.</summary>
    public static string Render(Combination combination, Configuration configuration, LimitSet set, LimitContext context) =>
        Render(combination, configuration, LimitStack.Of(set), context);

    /// <summary>The same of tables one over another.</summary>
    public static string Render(Combination combination, Configuration configuration, LimitStack stack, LimitContext context)
    {
        var margins = MarginTable.For(combination, configuration, stack, context);
        string[][] cells = [.. margins.Select(m => new[] { Name(combination, m), Limit(m), Standing(m.Standing), Source(m) })];
        int[] widths = [.. Enumerable.Range(0, 3).Select(c => cells.Max(row => row[c].Length))];
        var text = new StringBuilder();
        foreach (var row in cells)
        {
            for (var c = 0; c < widths.Length; c++) text.Append(row[c].PadRight(widths[c] + 2));
            text.Append(row[^1]).Append('\n');
        }

        foreach (var line in MarginTable.Unlimited(combination, configuration, stack, context)) text.Append(line).Append('\n');
        return text.ToString();
    }

    /// <summary>What a margin limits.</summary>
    public static string Name(Combination combination, Margin margin) => margin.Key.Kind switch
    {
        MarginKind.Axle => $"Axle {AxleName(combination, margin.Key.Element)}",
        MarginKind.Group => GroupName(combination, margin),
        MarginKind.Gross => $"Gross mass of {combination.Vehicles[margin.Key.Body].Id}",
        MarginKind.CombinationGross => "Gross combination mass",
        MarginKind.DrivingShare => "Share on the driving axles",
        MarginKind.SteeringShare => "Share on the steer axle",
        MarginKind.AxleRating => $"Rating of axle {AxleName(combination, margin.Key.Element)}",
        MarginKind.TyreRating => $"Tyres of axle {AxleName(combination, margin.Key.Element)}",
        MarginKind.Bridge => $"Axles {AxleName(combination, margin.Key.FirstOfRun)} to {AxleName(combination, margin.Key.LastOfRun)}",
        MarginKind.CouplingLeast or MarginKind.CouplingMost =>
            $"{(margin.Key.Element == 0 ? "Front" : "Rear")} coupling of {combination.Vehicles[margin.Key.Body].Id}",
        _ => throw new ArgumentOutOfRangeException(nameof(margin), margin.Key.Kind, "Unknown kind."),
    };

    /// <summary>The limit as people read it: <c>at most 11 500 kg</c>, <c>at least 25 %</c>.</summary>
    public static string Limit(Margin margin) => margin.Key.Kind switch
    {
        MarginKind.DrivingShare or MarginKind.SteeringShare => string.Create(CultureInfo.InvariantCulture, $"at least {margin.Limit * 100:0.#} %"),
        MarginKind.CouplingLeast => $"at least {Kilograms(margin.Limit)}",
        MarginKind.Axle or MarginKind.Group or MarginKind.Gross or MarginKind.CombinationGross or MarginKind.AxleRating
            or MarginKind.TyreRating or MarginKind.CouplingMost or MarginKind.Bridge => $"at most {Kilograms(margin.Limit)}",
        _ => throw new ArgumentOutOfRangeException(nameof(margin), margin.Key.Kind, "Unknown kind."),
    };

    /// <summary>The source with its edition, how far it may be trusted, and what must be known beside it.</summary>
    public static string Source(Margin margin)
    {
        var source = margin.Source;
        var edition = source.Status switch
        {
            LimitStatus.InForce => Edition(source),
            LimitStatus.UnverifiedEdition => $"{Edition(source)}, not verified",
            LimitStatus.KnownOutdated => $"{Edition(source)}, known to be outdated",
            // A permit's days stand in its note.
            LimitStatus.VehiclePapers or LimitStatus.Permit => "",
            _ => throw new ArgumentOutOfRangeException(nameof(margin), source.Status, "Unknown status."),
        };
        var place = edition.Length == 0 ? Place(source) : $"{Place(source)} ({edition})";
        return margin.Note.Length == 0 ? place : $"{place}. {margin.Note}";
    }

    /// <summary>Title and clause.</summary>
    public static string Place(LimitSource source) => source.Clause.Length == 0 ? source.Title : $"{source.Title}, {source.Clause}";

    /// <summary>A mass as the trade writes it: <c>11 500 kg</c>.</summary>
    public static string Kilograms(double kilograms) =>
        kilograms.ToString("#,0.###", CultureInfo.InvariantCulture).Replace(',', ' ') + " kg";

    private static string Edition(LimitSource source) =>
        "edition of " + source.AsOf.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Standing(MarginStanding standing) => standing switch
    {
        MarginStanding.Law => "law",
        MarginStanding.Technical => "technical",
        MarginStanding.HouseRule => "house rule",
        _ => throw new ArgumentOutOfRangeException(nameof(standing), standing, "Unknown standing."),
    };

    private static string AxleName(Combination combination, int axle)
    {
        var part = combination.Axles[axle];
        return $"{part.Axle.Key} of {combination.Vehicles[part.Body].Id}";
    }

    private static string GroupName(Combination combination, Margin margin)
    {
        var vehicle = combination.Vehicles[margin.Key.Body];
        if (margin.Key.Element == 0) return $"Front group of {vehicle.Id}";
        if (margin.Key.Element == 1) return $"Rear group of {vehicle.Id}";
        ImmutableArray<string> axles = [.. combination.Axles.Where(a => margin.Weights[a.Index] != 0).Select(a => a.Axle.Key)];
        return $"Axles {string.Join(" + ", axles)} of {vehicle.Id}";
    }
}

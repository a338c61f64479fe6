using System.Text.Json;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.Limits;

/// <summary>Reads the conditions of a rule.</summary>
internal static class ConditionReader
{
    private const double MostDistance = 30;

    public static CountRange Count(JsonPlace place, string key)
    {
        const string Expected = "a number of axles from 1 to 32, or {\"from\": 2, \"to\": 3}";
        if (place.Any(key, Expected) is not { } value) return default;
        if (value.ValueKind != JsonValueKind.Object)
            return place.Whole(key, 1, Configuration.MostAxles) is { } count ? CountRange.Exactly(count) : default;

        var range = place.Object(key, Expected)!;
        var from = range.Whole("from", 1, Configuration.MostAxles);
        var to = range.Whole("to", 1, Configuration.MostAxles);
        range.Close();
        if (from > to) range.Wrong("to", $"{from} or more");
        return new CountRange(from ?? 0, to ?? 0);
    }

    public static SpacingRange Spacing(JsonPlace place, string key)
    {
        if (place.Object(key, "an interval in metres, for example {\"from\": 1.0, \"below\": 1.3}") is not { } range) return default;
        double? from = Distance(range, "from"), above = Distance(range, "above"), to = Distance(range, "to"), below = Distance(range, "below");
        range.Close();
        string[] ends = ["from", "above", "to", "below"];
        if (!ends.Any(range.Has)) place.Wrong(key, "at least one of from, above, to, below");
        if (range.Has("from") && range.Has("above")) range.Wrong("above", "only one of from, above");
        if (range.Has("to") && range.Has("below")) range.Wrong("below", "only one of to, below");
        var upper = to ?? below;
        if ((from ?? above) is { } lower && upper is { } end && (end < lower || (end == lower && (from is null || to is null))))
            range.Wrong(to is null ? "below" : "to", FormattableString.Invariant($"more than {lower}"));
        return new SpacingRange { From = Metres(from), Above = Metres(above), To = Metres(to), Below = Metres(below) };
    }

    public static Fitting? Fitting(JsonPlace place)
    {
        if (place.Object("fitted", "for example {\"twin\": true, \"air\": true}") is not { } fitted) return null;
        var fitting = new Fitting
        {
            Twin = fitted.Flag("twin"),
            Air = fitted.Flag("air"),
            EachAxleAtMost = fitted.Number("each_axle_at_most_kg", 100, 500_000, required: false) is { } kilograms ? Mass.FromKilograms(kilograms) : null,
        };
        fitted.Close();
        if (!fitted.Has("twin") && !fitted.Has("air") && !fitted.Has("each_axle_at_most_kg"))
            place.Wrong("fitted", "at least one of twin, air, each_axle_at_most_kg");
        return fitting;
    }

    private static double? Distance(JsonPlace range, string key) => range.Number(key, 0, MostDistance, required: false);

    private static Length? Metres(double? metres) => metres is { } value ? Length.FromMetres(value) : null;
}

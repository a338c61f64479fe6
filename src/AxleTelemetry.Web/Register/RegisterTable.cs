using System.Collections.Immutable;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Register;

/// <summary>Lines of the register as a table to be taken along: times in UTC, masses in kg.</summary>
internal static class RegisterTable
{
    public static ImmutableArray<Column<EpisodeLine>> Columns { get; } =
    [
        new("since", l => l.Since.ToString()), new("ended", l => l.Ended?.ToString()), new("fleet", l => l.Vehicle.Fleet), new("vehicle", l => l.Vehicle.Id), new("plate", l => l.Plate),
        new("about", l => l.About), new("reached", l => l.Reached.ToString().ToLowerInvariant()), new("limit_kg", l => TableFile.Rounded(l.Limit)), new("peak_excess_kg", l => TableFile.Rounded(l.Peak?.Mean)),
        new("peak_low_kg", l => TableFile.Rounded(l.Peak?.Low)), new("peak_high_kg", l => TableFile.Rounded(l.Peak?.High)), new("source", l => l.Source), new("band", l => l.Band), new("lifts", l => l.Lifts),
        new("latitude_deg", l => TableFile.Rounded(l.Latitude, 5)), new("longitude_deg", l => TableFile.Rounded(l.Longitude, 5)), new("versions", l => l.Versions), new("sentence", l => l.Sentence), new("told", l => l.Contacts),
    ];

    public static TableOrder<EpisodeLine> Order { get; } = new(
    [
        new("since", l => l.Since.UnixMilliseconds, IsGreatestFirst: true), new("lasted", l => l.Ended?.SecondsSince(l.Since) ?? double.MaxValue, IsGreatestFirst: true), new("vehicle", l => l.Vehicle.Id), new("plate", l => l.Plate),
        new("what", l => l.About), new("sure", l => l.Reached, IsGreatestFirst: true), new("peak", l => l.Peak?.Mean, IsGreatestFirst: true), new("limit", l => l.Limit, IsGreatestFirst: true), new("source", l => l.Source),
    ]);
}

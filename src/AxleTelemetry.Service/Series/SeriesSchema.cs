using System.Collections.Immutable;

namespace AxleTelemetry.Service.Series;

/// <summary>
/// The series that go out, in one place: a test compares it with docs/series.md and with what is written. Units stand in the names. Every point has the field
/// <c>void</c>: true where a correction took it back, so that every query filters <c>void = false</c>.
/// </summary>
internal static class SeriesSchema
{
    public const string Fleet = "fleet", Unit = "unit", Vehicle = "vehicle", Axle = "axle", Finding = "finding", Kind = "kind", Position = "position", Void = "void";

    private const string Positions = "2 loaded, 1 on the road without load, 0 raised";

    /// <summary>The measurements.</summary>
    public static ImmutableArray<Measurement> All { get; } =
    [
        new("axle_load", "Load of an axle on the road, at each moment that loads were told; from settled readings, of the unit that the vehicle was in.", [Fleet, Unit, Vehicle, Axle],
        [
            ("load_kg", "best estimate; 0 while it is raised"), ("low_kg", "lower end of the 95 % interval"), ("high_kg", "upper end"),
            ("limit_kg", "the strictest limit of this axle by law, papers or rating, in the country and the position of the lifts of then; 0 where none is known"),
            ("margin_kg", "limit less load; 0 where no limit is known"), (Position, Positions), ("standing", "settled, provisional or earlier"),
        ]),
        new("lift", "Where an axle is, at each moment that loads were told.", [Fleet, Unit, Vehicle, Axle], [(Position, Positions)]),
        new("gross", "Everything that stands on the road.", [Fleet, Unit],
        [
            ("gross_kg", "best estimate"), ("low_kg", "lower end of the 95 % interval"), ("high_kg", "upper end"),
            ("limit_kg", "limit of the combination, of a unit alone its own; 0 where none is known"), ("margin_kg", "limit less gross; 0 where no limit is known"), ("payload_kg", "payload of all bodies"),
        ]),
        new("episode", "A finding over time; the point stands at its beginning and is written anew when it changes.", [Fleet, Unit, Finding, Kind],
        [
            ("level", "level now: clear once it ended"), ("reached", "highest level"), ("is_open", "true while it holds"), ("lasted_s", "from its beginning to its end; 0 while it is open"),
            ("excess_kg", "greatest excess over the limit; 0 for what is no limit"), ("limit_kg", "that limit; 0 for what is no limit"), ("about", "what was found, for people"),
        ]),
        new("axle_day", "What an axle went through in a period of a day (UTC); the point stands at its beginning and is written anew as the day goes on.", [Fleet, Unit, Vehicle, Axle],
        [
            ("road_m", "rolled on the road"), ("known_m", "of it with its load known"), ("raised_m", "rolled with it raised"), ("load_kgm", "load times the distance it was known for"),
            ("scrub_j", "slip in bends"), ("tread_mnm", "tread energy"), ("high_s", "rolling above 95 % of a rating"), ("raises", "times it was raised"), ("lowers", "times it was lowered"),
        ]),
    ];

    /// <summary>One measurement.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="About">What it tells.</param>
    /// <param name="Tags">Its tags, in the order written.</param>
    /// <param name="Fields">Its fields beside <see cref="Void"/>, each with what it is.</param>
    internal sealed record Measurement(string Name, string About, ImmutableArray<string> Tags, ImmutableArray<(string Name, string About)> Fields);
}

using System.Text;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Messages.Tests.Limits;

public sealed class LimitSetParserTests
{
    private const string Head = """ "id": "x", "title": "X", "as_of": "2024-01-01", "source": "s", "status": "in-force", """;

    [Fact]
    public void The_shipped_table_is_read_with_its_edition_and_every_clause()
    {
        var set = Parsed(LimitSetFile.Shipped(LimitSetFile.Directive));
        Assert.Equal("Council Directive 96/53/EC", set.Title);
        Assert.Equal(new DateOnly(2019, 8, 14), set.AsOf);
        Assert.Equal(TripScope.All, set.AppliesTo);
        string[] points =
        [
            "2.1.1", "2.1.2", "2.2", "2.2.1 (a)", "2.2.1 (b)", "2.2.2", "2.2.2 (a)", "2.2.2 (b)", "2.2.3", "2.2.4.1", "2.2.4.2",
            "2.3.1", "2.3.2", "2.3.3", "3.1", "3.2.1", "3.2.2", "3.2.3", "3.2.4", "3.3.1", "3.3.2", "3.4", "3.5.1", "3.5.2", "3.5.3", "4.1", "4.3",
        ];
        Assert.Equal(points, set.Rules.Select(r => r.Clause["Annex I, ".Length..]).Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_missing_scope_is_national() =>
        Assert.Equal(TripScope.National, Parsed(Parse($$"""{ {{Head}} "rules": [ { "limits": "axle", "clause": "1", "driving": true, "kg": 11500 } ] }""")).AppliesTo);

    [Fact]
    public void Every_error_is_reported_at_once_with_path_value_and_what_would_be_right()
    {
        var errors = Refused("""
            {
              "id": "Not Good", "title": "", "as_of": "14.8.2019", "status": "valid", "colour": "red",
              "rules": [
                { "limits": "axle", "clause": "1", "driving": "yes", "kg": 11500 },
                { "limits": "group", "vehicle": "trailer", "axles": 1, "spacing_m": { "from": 1.3, "below": 1.0 }, "kg": 99 },
                { "limits": "tunnel" },
                { "limits": "vehicle", "clause": "4", "vehicle": "motor", "axles": { "from": 3, "to": 2 }, "kg": 18000, "cap_kg": 18000 },
                { "limits": "vehicle", "clause": "5", "vehicle": "motor", "axles": 2, "add_up_to_kg": 1000 },
                { "limits": "driving-share", "clause": "6", "least": 25, "kg": 1000 },
                7
              ]
            }
            """);
        Assert.Equal(
        [
            """$.id: found "Not Good", expected 1 to 64 of a-z 0-9 . _ -""",
            """$.title: found "", expected a text that is not empty""",
            """$.as_of: found "14.8.2019", expected a date as 2019-08-14""",
            "$.source: found nothing, expected a text",
            """$.status: found "valid", expected one of in-force, unverified-edition, known-outdated""",
            """$.rules[0].driving: found "yes", expected true or false""",
            "$.rules[1].clause: found nothing, expected a text",
            "$.rules[1].axles: found 1, expected a whole number from 2 to 32",
            "$.rules[1].spacing_m.below: found 1.0, expected more than 1.3",
            "$.rules[1].kg: found 99, expected a number from 100 to 500000",
            """$.rules[2].limits: found "tunnel", expected one of axle, group, vehicle, combination, driving-share, bridge""",
            "$.rules[3].axles.to: found 2, expected 3 or more",
            "$.rules[3].cap_kg: found 18000, expected only one of kg, cap_kg, cap_kg_per_m, add_up_to_kg; kg is given already",
            "$.rules[4].energy: found nothing, expected one of alternative-fuel, zero-emission",
            "$.rules[5].least: found 25, expected a number from 0 to 1",
            "$.rules[5].kg: found an unknown key, expected one of limits, clause, status, note, trips, least",
            "$.rules[6]: found 7, expected a rule: an object with limits and clause",
            "$.colour: found an unknown key, expected one of $schema, id, title, as_of, source, status, applies_to, countries, from, stands_alone, notes, rules",
        ], errors.Select(e => e.ToString()));
    }

    [Theory]
    [InlineData("{ \"id\": \"x\",\n  oops }", "line 2")]
    [InlineData("", "line 1")]
    [InlineData("[]", "$")]
    public void What_is_no_table_at_all_is_refused_with_its_place(string json, string place) =>
        Assert.Equal(place, Assert.Single(Refused(json)).Path);

    [Fact]
    public void A_key_given_twice_is_refused() =>
        Assert.Single(Refused($$"""{ {{Head}} "id": "y", "rules": [] }"""));

    [Theory]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true }""", "$.rules[0].kg")]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true, "kg": 1e999 }""", "$.rules[0].kg")]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true, "kg": null }""", "$.rules[0].kg")]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true, "kg": 10000, "energy": "zero-emission" }""", "$.rules[0].energy")]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true, "kg": 10000, "fitted": {} }""", "$.rules[0].fitted")]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": true, "cap_kg_per_m": 5000 }""", "$.rules[0].kg")]
    [InlineData("""{ "limits": "group", "clause": "1", "vehicle": "motor", "axles": 2, "spacing_m": {}, "kg": 18000 }""", "$.rules[0].spacing_m")]
    [InlineData("""{ "limits": "group", "clause": "1", "vehicle": "motor", "axles": 2, "spacing_m": { "from": 1, "above": 1 }, "kg": 18000 }""", "$.rules[0].spacing_m.above")]
    [InlineData("""{ "limits": "group", "clause": "1", "vehicle": "motor", "axles": 2, "spacing_m": 1.3, "kg": 18000 }""", "$.rules[0].spacing_m")]
    [InlineData("""{ "limits": "driving-share", "clause": "1", "least": 1 }""", "$.rules[0].least")]
    public void Parser_and_schema_refuse_alike(string rule, string path)
    {
        var json = $$"""{ {{Head}} "rules": [ {{rule}} ] }""";
        Assert.Contains(Refused(json), e => e.Path == path);
        Assert.False(LimitSchemaTests.IsValid(json));
    }

    [Theory]
    [InlineData("""{ "limits": "axle", "clause": "1", "driving": false, "single_only": true, "trips": "national", "kg": 10000 }""")]
    [InlineData("""{ "limits": "group", "clause": "1", "vehicle": "semi-trailer", "axles": 3, "spacing_m": { "above": 1.3, "to": 1.4 }, "kg": 24000 }""")]
    [InlineData("""{ "limits": "group", "clause": "1", "vehicle": "motor", "axles": 2, "spacing_m": { "from": 1.3, "to": 1.3 }, "kg": 18000 }""")]
    [InlineData("""{ "limits": "vehicle", "clause": "1", "vehicle": "motor", "axles": 4, "status": "known-outdated", "note": "n", "cap_kg_per_m": 5000 }""")]
    [InlineData("""{ "limits": "driving-share", "clause": "1", "least": 0.2 }""")]
    public void Parser_and_schema_accept_alike(string rule)
    {
        var json = $$"""{ {{Head}} "rules": [ {{rule}} ] }""";
        Parsed(Parse(json));
        Assert.True(LimitSchemaTests.IsValid(json));
    }

    internal static LimitSetResult Parse(string json) => LimitSetParser.Parse(Encoding.UTF8.GetBytes(json));

    internal static LimitSet Parsed(LimitSetResult result) => result switch
    {
        LimitSetResult.Parsed parsed => parsed.Set,
        LimitSetResult.Refused refused => throw new InvalidOperationException(string.Join('\n', refused.Errors)),
        _ => throw new InvalidOperationException("Unknown result."),
    };

    private static IEnumerable<LimitFileError> Refused(string json) => Assert.IsType<LimitSetResult.Refused>(Parse(json)).Errors;
}

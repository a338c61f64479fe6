using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Series;
using Json.Schema;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>
/// The files of dashboards against Grafana's published types (@grafana/schema 13.2.3 as JSON schemas, <c>Dashboards/Schema/make.mjs</c>), and against what those
/// types leave open: queries are free text to them, and panels may lie over one another.
/// </summary>
public sealed partial class DashboardShapeTests
{
    private const string DataSource = "axletelemetry-series";
    private const int Width = 24;

    public static TheoryData<string> Names => [.. Dashboard.All.Select(d => d.Name)];

    [Fact]
    public void There_is_one_for_each_role() => Assert.Equal(["exposure", "live", "overloads"], Dashboard.All.Select(d => d.Name));

    [Theory]
    [MemberData(nameof(Names))]
    public void It_is_what_Grafana_publishes(string name)
    {
        var dashboard = Of(name);
        Assert.Empty(Wrong("dashboard", dashboard.Root));
        foreach (var panel in dashboard.Panels)
            foreach (var custom in Customs(panel))
            {
                var own = new JsonObject { ["options"] = JsonNode.Parse(panel.GetProperty("options").GetRawText()), ["custom"] = custom };
                Assert.Empty(Wrong(panel.GetProperty("type").GetString()!, JsonSerializer.SerializeToElement(own)));
            }
    }

    [Fact]
    public void The_schemas_find_what_is_wrong()
    {
        var live = JsonNode.Parse(Of("live").Root.GetRawText())!;
        live["panels"]![0]!["gridPos"]!["w"] = "wide";
        Assert.NotEmpty(Wrong("dashboard", JsonSerializer.SerializeToElement(live)));
        var own = JsonNode.Parse("""{ "options": { "legend": { "showLegend": true, "placement": "bottom", "calcs": [] }, "tooltip": { "mode": "multi", "sort": "desc" } }, "custom": { "drawStyle": "sketch" } }""")!;
        Assert.NotEmpty(Wrong("timeseries", JsonSerializer.SerializeToElement(own)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_panel_says_what_it_shows_and_what_it_means_that_nothing_is_there(string name)
    {
        var panels = Of(name).Panels;
        Assert.Equal(panels.Length, panels.Select(p => p.GetProperty("id").GetInt32()).Distinct().Count());
        Assert.Equal(panels.Length, panels.Select(p => p.GetProperty("title").GetString()).Distinct().Count());
        foreach (var panel in panels)
        {
            var defaults = panel.GetProperty("fieldConfig").GetProperty("defaults");
            Assert.EndsWith(".", panel.GetProperty("description").GetString());
            Assert.EndsWith(".", defaults.GetProperty("noValue").GetString());
            // A table has a unit for each column that is a number.
            Assert.True(panel.GetProperty("type").GetString() == "table" || defaults.TryGetProperty("unit", out _), $"{panel.GetProperty("title")} has no unit.");
            Assert.NotEmpty(panel.GetProperty("targets").EnumerateArray());
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_panel_lies_over_another(string name)
    {
        var taken = new HashSet<(int X, int Y)>();
        foreach (var panel in Of(name).Panels)
        {
            var at = panel.GetProperty("gridPos");
            var (x, y, w, h) = (at.GetProperty("x").GetInt32(), at.GetProperty("y").GetInt32(), at.GetProperty("w").GetInt32(), at.GetProperty("h").GetInt32());
            Assert.InRange(x + w, 1, Width);
            // Who is repeated along a row has the row for itself.
            if (panel.TryGetProperty("repeat", out _)) (x, w) = (0, Width);
            for (var i = x; i < x + w; i++)
                for (var j = y; j < y + h; j++) Assert.True(taken.Add((i, j)), $"{panel.GetProperty("title")} lies over another panel.");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_query_goes_to_the_series_and_leaves_out_what_was_taken_back(string name)
    {
        var dashboard = Of(name);
        foreach (var source in Sources(dashboard.Root)) Assert.Equal(("influxdb", DataSource), source);
        foreach (var query in dashboard.Queries)
        {
            Assert.True(query.Target.GetProperty("rawQuery").GetBoolean());
            Assert.Equal(FromMeasurement().Count(query.Text), Cleared().Count(query.Text));
            // Grafana puts tags that a table is grouped by into columns in no certain order: there they have to be columns of the answer.
            Assert.True(query.Target.GetProperty("resultFormat").GetString() != "table" || GroupedOutside().Count(query.Text) == 0, $"{query}");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Queries_name_what_is_written_and_variables_that_there_are(string name)
    {
        var dashboard = Of(name);
        var written = SeriesSchema.All.SelectMany(m => (string[])[m.Name, .. m.Tags, .. m.Fields.Select(f => f.Name)]).Append(SeriesSchema.Void).ToHashSet(StringComparer.Ordinal);
        foreach (var text in dashboard.Queries.Select(q => q.Text).Concat(dashboard.Variables.Select(v => v.Query)))
        {
            var known = written.Concat(Given().Matches(text).Select(m => m.Groups[1].Value)).ToHashSet(StringComparer.Ordinal);
            Assert.All(Quoted().Matches(text), m => Assert.Contains(m.Groups[1].Value, known));
        }

        var used = dashboard.Queries.Select(q => q.Text).Concat(dashboard.Variables.Select(v => v.Query)).SelectMany(t => Used().Matches(t)).Select(m => m.Groups[1].Value).Distinct();
        Assert.Equal(dashboard.Variables.Select(v => v.Name).Order(), used.Order());
        foreach (var variable in (string[])["fleet", "vehicle"]) Assert.Contains(variable, dashboard.Variables.Select(v => v.Name));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void What_is_dressed_otherwise_is_a_column_of_its_query(string name)
    {
        foreach (var panel in Of(name).Panels)
        {
            var texts = panel.GetProperty("targets").EnumerateArray().Select(t => t.GetProperty("query").GetString()!).ToList();
            var columns = texts.SelectMany(t => Quoted().Matches(t)).Select(m => m.Groups[1].Value).Append("Time")
                .Concat(panel.GetProperty("targets").EnumerateArray().Select(t => t.TryGetProperty("alias", out var alias) ? alias.GetString()! : "Time")).ToHashSet(StringComparer.Ordinal);
            foreach (var dressed in panel.GetProperty("fieldConfig").GetProperty("overrides").EnumerateArray())
                Assert.Contains(dressed.GetProperty("matcher").GetProperty("options").GetString()!, columns);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_limit_stands_in_the_file(string name)
    {
        // Limits come with the data. Nought is no limit: it is where a margin ends.
        foreach (var steps in Everywhere(Of(name).Root, "steps"))
            Assert.All(steps.EnumerateArray().Select(s => s.GetProperty("value")), v => Assert.True(v.ValueKind == JsonValueKind.Null || v.GetDouble() == 0));
        Assert.Contains(Of(name).Queries, q => q.Text.Contains("limit_kg", StringComparison.Ordinal));
    }

    [Fact]
    public void They_are_told_apart_and_lead_to_one_another()
    {
        var uids = Dashboard.All.Select(d => d.Root.GetProperty("uid").GetString()!).ToList();
        Assert.Equal(uids.Count, uids.Distinct().Count());
        foreach (var link in Dashboard.All.SelectMany(d => Everywhere(d.Root, "url")).Select(u => u.GetString()!)) Assert.Contains(ToDashboard().Match(link).Groups[1].Value, uids);
        // It can hurt someone who takes it for a weighbridge.
        Assert.All(Dashboard.All, d => Assert.Contains("no legal-for-trade weighing instrument", d.Root.GetProperty("description").GetString(), StringComparison.Ordinal));
    }

    private static Dashboard Of(string name) => Dashboard.All.Single(d => d.Name == name);

    private static List<string> Wrong(string schema, JsonElement of)
    {
        var file = Path.Combine(AppContext.BaseDirectory, "Dashboards", "Schema", $"{schema}.schema.json");
        var result = JsonSchema.FromText(File.ReadAllText(file)).Evaluate(of, new EvaluationOptions { OutputFormat = OutputFormat.List });
        return result.IsValid ? [] : [.. (result.Details ?? []).Where(d => d.Errors is not null).Select(d => $"{d.InstanceLocation}: {string.Join(' ', d.Errors!.Values)}"), "not valid"];
    }

    /// <summary>What belongs to the sort of panel: by itself, and with what each field that is dressed otherwise changes.</summary>
    private static IEnumerable<JsonObject> Customs(JsonElement panel)
    {
        var config = panel.GetProperty("fieldConfig");
        var custom = config.GetProperty("defaults").GetProperty("custom").GetRawText();
        yield return JsonNode.Parse(custom)!.AsObject();
        foreach (var dressed in config.GetProperty("overrides").EnumerateArray())
        {
            var own = JsonNode.Parse(custom)!.AsObject();
            foreach (var property in dressed.GetProperty("properties").EnumerateArray())
                if (property.GetProperty("id").GetString()!.Split('.') is ["custom", var key]) own[key] = JsonNode.Parse(property.GetProperty("value").GetRawText());
            yield return own;
        }
    }

    private static IEnumerable<(string?, string?)> Sources(JsonElement root) => Everywhere(root, "datasource").Select(s => (s.GetProperty("type").GetString(), s.GetProperty("uid").GetString()));

    private static IEnumerable<JsonElement> Everywhere(JsonElement of, string name) => of.ValueKind switch
    {
        JsonValueKind.Object => of.EnumerateObject().SelectMany(p => p.Name == name ? [p.Value] : Everywhere(p.Value, name)),
        JsonValueKind.Array => of.EnumerateArray().SelectMany(e => Everywhere(e, name)),
        _ => [],
    };

    [GeneratedRegex("FROM \"")]
    private static partial Regex FromMeasurement();

    [GeneratedRegex("GROUP BY [^)]*$")]
    private static partial Regex GroupedOutside();

    [GeneratedRegex("WHERE \"void\" = false AND ")]
    private static partial Regex Cleared();

    [GeneratedRegex("\"([^\"]+)\"")]
    private static partial Regex Quoted();

    [GeneratedRegex("AS \"([^\"]+)\"")]
    private static partial Regex Given();

    [GeneratedRegex(@"\$\{([a-z]+):regex\}")]
    private static partial Regex Used();

    [GeneratedRegex("^/d/([a-z-]+)\\?")]
    private static partial Regex ToDashboard();
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Tests.Series;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>Every query of every dashboard, sent to a real InfluxDB that the writer filled, against the history in force.</summary>
public sealed class DashboardQueryTests(FilledInflux filled) : IClassFixture<FilledInflux>
{
    private const long Minute = 60_000, Day = 24 * 60 * Minute;

    private static readonly Choice All = new Choice.All(".*");

    [Fact]
    public async Task Every_query_gives_what_the_history_says()
    {
        InfluxServer.SkipWhereMissing();
        // Without a point that was taken back the comparison would say nothing of the filter.
        Assert.NotEmpty(await filled.Server.QueryAsync("SELECT \"load_kg\" FROM \"axle_load\" WHERE \"void\" = true"));
        var given = new HashSet<string>();
        foreach (var query in Dashboard.All.SelectMany(d => d.Queries))
            foreach (var look in Looks(query.Dashboard))
            {
                var expected = ExpectedRows.Of(query, filled.History, look);
                var text = look.Put(query.Text);
                var rows = (await filled.Server.QueryAsync(text)).SelectMany(s => s.Lines()).Order(StringComparer.Ordinal).ToList();
                Assert.True(expected.SequenceEqual(rows), $"{query}\n{text}\nexpected:\n{string.Join('\n', expected.Take(20))}\ngiven:\n{string.Join('\n', rows.Take(20))}");
                if (rows.Count > 0) given.Add(query.ToString());
            }

        Assert.Equal(ExpectedRows.Names.Order(), given.Order());
    }

    [Fact]
    public async Task Every_variable_offers_what_there_is()
    {
        InfluxServer.SkipWhereMissing();
        var history = filled.History;
        foreach (var dashboard in Dashboard.All)
            foreach (var look in Looks(dashboard))
                foreach (var variable in dashboard.Variables)
                {
                    var expected = (dashboard.Name, variable.Name) switch
                    {
                        (_, "fleet") => ["north"],
                        ("overloads", "vehicle") => history.Episodes.Where(e => look.Chose("fleet", e.Key.Unit.Fleet)).Select(e => e.Key.Unit.Id),
                        (_, "vehicle") => history.Axles.Where(a => look.Chose("fleet", a.Name.Fleet)).Select(a => a.Name.Vehicle),
                        (_, "axle") => history.Axles.Where(a => look.Chose("fleet", a.Name.Fleet) && look.Chose("vehicle", a.Name.Vehicle)).Select(a => a.Name.Axle),
                        _ => throw new InvalidOperationException($"Nobody said what {variable.Name} offers."),
                    };
                    var offered = (await filled.Server.QueryAsync(look.Put(variable.Query))).SelectMany(s => s.Rows).Select(r => r[1].GetString()!);
                    Assert.Equal(expected.Distinct().Order(StringComparer.Ordinal), offered.Order(StringComparer.Ordinal));
                }
    }

    [Fact]
    public async Task What_is_taken_back_is_shown_by_no_query()
    {
        InfluxServer.SkipWhereMissing();
        const string Other = "taken_back";
        await filled.Server.QueryAsync($"CREATE DATABASE {Other}");
        using var writer = filled.Writer(Other);
        var points = filled.History.Rows.SelectMany(filled.History.Points).ToImmutableArray();
        foreach (var chunk in points.Chunk(5_000)) Assert.IsType<SendOutcome.Taken>(await writer.SendAsync([.. chunk], TestContext.Current.CancellationToken));
        Assert.Empty(await EmptyQueriesAsync(Other));
        var back = points.Select(p => p with { Fields = [(Service.Series.SeriesSchema.Void, new FieldValue.Flag(true))] });
        foreach (var chunk in back.Chunk(5_000)) Assert.IsType<SendOutcome.Taken>(await writer.SendAsync([.. chunk], TestContext.Current.CancellationToken));
        Assert.Equal(ExpectedRows.Names.Order(), (await EmptyQueriesAsync(Other)).Order());
    }

    private async Task<List<string>> EmptyQueriesAsync(string database)
    {
        var empty = new List<string>();
        foreach (var query in Dashboard.All.SelectMany(d => d.Queries))
        {
            var rows = 0;
            foreach (var look in Looks(query.Dashboard)) rows += (await filled.Server.QueryAsync(look.Put(query.Text), database)).Sum(s => s.Rows.Length);
            if (rows == 0) empty.Add(query.ToString());
        }

        return empty;
    }

    /// <summary>Each vehicle axle by axle, all fleets, one fleet, and a fleet that is not there though its name as a regular expression would be.</summary>
    private IEnumerable<Looking> Looks(Dashboard dashboard)
    {
        var (first, last) = filled.Span;
        var midnight = new Moment(first.UnixMilliseconds / Day * Day);
        var (from, to) = dashboard.Name == "live" ? (new Moment(first.UnixMilliseconds + 10 * Minute), new Moment(last.UnixMilliseconds - 5 * Minute)) : (midnight, last);
        Looking Look(Choice fleet, Choice vehicle, Choice axle) =>
            new(from, to, TimeSpan.FromMinutes(5), ImmutableDictionary.CreateRange(StringComparer.Ordinal, [KeyValuePair.Create("fleet", fleet), KeyValuePair.Create("vehicle", vehicle), KeyValuePair.Create("axle", axle)]));
        yield return Look(All, All, All);
        yield return Look(new Choice.Values("n.rth"), All, All);
        yield return Look(new Choice.Values("north", "south"), new Choice.Values("RT-01", "TR-04"), All);
        foreach (var axle in filled.History.Axles.Select(a => (a.Name.Vehicle, a.Name.Axle)).Distinct())
            yield return Look(new Choice.Values("north"), new Choice.Values(axle.Vehicle), new Choice.Values(axle.Axle));
    }
}

using System.Diagnostics;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sighting;
using AxleTelemetry.Service.Tests.Http;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Tests.Sighting;

/// <summary>What the register finds of a span.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class EpisodeLinesTests(ServedFleet fleet, ITestOutputHelper output)
{
    private static readonly EpisodeQuery All = new();

    [Fact]
    public async Task What_is_looked_for_is_found_on_the_whole_span_and_not_among_the_newest_alone()
    {
        var all = await ReadAsync(All);
        Assert.True(all.Lines.Length > 3, "Too few to tell.");
        Assert.Equal((all.Lines.Length, null), (all.Looked, all.BackTo));
        var oldest = all.Lines[^1];
        var found = await ReadAsync(All with { Fits = l => l.Key() == oldest.Key() }, given: 1);
        Assert.Equal([oldest.Key()], found.Lines.Select(l => l.Key()));
        Assert.Equal((all.Looked, null), (found.Looked, found.BackTo));
        await TellPaceAsync(all.Looked);
    }

    // To be read, not judged.
    private async Task TellPaceAsync(int rows)
    {
        const int Times = 200;
        var began = Stopwatch.GetTimestamp();
        for (var i = 0; i < Times; i++) Assert.Empty((await ReadAsync(All with { Fits = _ => false })).Lines);
        output.WriteLine($"{Stopwatch.GetElapsedTime(began).TotalMicroseconds / Times / rows:0} us for each of {rows} episodes looked through.");
    }

    [Fact]
    public async Task Where_a_span_holds_more_than_is_looked_at_or_given_it_is_said_how_far_back_that_was()
    {
        var all = await ReadAsync(All);
        foreach (var few in (EpisodesFound[])[await ReadAsync(All, looked: 2), await ReadAsync(All, given: 2)])
        {
            Assert.Equal(all.Lines[..2].Select(l => l.Key()), few.Lines.Select(l => l.Key()));
            Assert.Equal((2, all.Lines[2].Since), (few.Looked, few.BackTo));
        }
    }

    [Fact]
    public async Task What_has_been_open_since_before_a_span_is_found_in_it_though_nothing_changed_of_it()
    {
        var open = (await ReadAsync(All)).Lines.Where(l => l.Ended is null).ToArray();
        var from = fleet.Clock.Now();
        Assert.NotEmpty(open);
        foreach (var vehicle in open.GroupBy(l => l.Vehicle))
        {
            var found = await ReadAsync(All with { Vehicle = vehicle.Key, From = from });
            Assert.Equal(vehicle.Select(l => l.Key()).Order(), found.Lines.Select(l => l.Key()).Order());
        }
    }

    private Task<EpisodesFound> ReadAsync(EpisodeQuery query, int given = 1000, int looked = 1000) =>
        new EpisodeLines(new Desks([fleet.Desk]), new CombinationShelf(), (given, looked)).ReadAsync(query, TestContext.Current.CancellationToken);
}

internal static class EpisodeKeys
{
    /// <summary>What tells an episode from all others.</summary>
    public static string Key(this EpisodeLine line) => $"{line.Vehicle} {line.Finding} {line.Since}";
}

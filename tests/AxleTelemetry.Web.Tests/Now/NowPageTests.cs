using System.Diagnostics;
using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Now;

/// <summary>What a controller does all day.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class NowPageTests(Demonstration demonstration, ITestOutputHelper output)
{
    [Fact]
    public async Task An_overload_appears_by_itself_is_acknowledged_clears_and_is_closed_by_what_was_done()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        using var truck = new OwnTruck("WEB-01", demonstration);
        await truck.ComeAsync();
        await visit.Page.EvaluateAsync("() => { document.documentElement.dataset.same = 'yes'; }");
        await truck.DriveAsync(600, 180, tagRaised: true);
        var committed = Stopwatch.GetTimestamp();
        var row = Row(visit, truck);
        await Assertions.Expect(row).ToBeVisibleAsync();
        // To be read, not judged: how fast it is says the machine as much as the page.
        output.WriteLine($"On the screen {Stopwatch.GetElapsedTime(committed).TotalMilliseconds:0} ms after its commit.");
        Assert.Equal("yes", await visit.Page.Locator("html").GetAttributeAsync("data-same"));

        await Assertions.Expect(row).ToContainTextAsync("Axle 2 (drive) over its limit");
        // Alarms of other tests may have made a flood, in which rows are short until they are opened.
        await row.GetByRole(AriaRole.Button, new() { Name = "Details" }).ClickAsync();
        await Assertions.Expect(row.Locator(".told .remedy")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^What to do: .*ower axle 3 \\(tag\\)"));
        await Assertions.Expect(row.Locator(".told p").First).Not.ToContainTextAsync("ower axle 3");
        await Assertions.Expect(row).ToContainTextAsync("Unacknowledged");
        await row.GetByRole(AriaRole.Button, new() { Name = "Acknowledge" }).ClickAsync();
        await Assertions.Expect(row.Locator(".state")).ToHaveTextAsync("Acknowledged");

        await truck.DriveAsync(180, 0, tagRaised: false);
        await Assertions.Expect(row.Locator(".state")).ToContainTextAsync("Returned to normal");
        await row.GetByRole(AriaRole.Button, new() { Name = "State what was done" }).ClickAsync();
        await row.GetByRole(AriaRole.Textbox, new() { Name = "What was done" }).FillAsync("Driver phoned, tag axle lowered.");
        await row.GetByRole(AriaRole.Button, new() { Name = "Enter", Exact = true }).ClickAsync();
        await Assertions.Expect(row).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task An_alert_is_shelved_with_a_reason_and_an_end_and_comes_back()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        using var truck = new OwnTruck("WEB-02", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(400, 0, tagRaised: true);
        var row = Row(visit, truck);
        await row.GetByRole(AriaRole.Button, new() { Name = "Shelve" }).ClickAsync();
        await row.GetByRole(AriaRole.Button, new() { Name = "Enter", Exact = true }).ClickAsync();
        await Assertions.Expect(row.GetByRole(AriaRole.Alert)).ToContainTextAsync("Say why.");

        await row.GetByLabel("Reason").FillAsync("Permit for this load.");
        await row.GetByRole(AriaRole.Button, new() { Name = "12 h" }).ClickAsync();
        await row.GetByRole(AriaRole.Button, new() { Name = "Enter", Exact = true }).ClickAsync();
        await Assertions.Expect(row.Locator(".state")).ToHaveTextAsync("Shelved");

        await visit.Page.GetByRole(AriaRole.Link, new() { NameRegex = new("^[0-9]+ Shelved$") }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("state=shelved$"));
        await row.GetByRole(AriaRole.Button, new() { Name = "Details" }).ClickAsync();
        await Assertions.Expect(row.Locator(".facts")).ToContainTextAsync("Permit for this load. by demonstration, until");
        await row.GetByRole(AriaRole.Button, new() { Name = "Unshelve" }).ClickAsync();
        await Assertions.Expect(row).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Who_answers_for_one_fleet_sees_its_alerts_its_rate_and_its_vehicles()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        using var truck = new OwnTruck("WEB-03", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(400, 0, tagRaised: true);
        await Assertions.Expect(Row(visit, truck)).ToBeVisibleAsync();
        var fleet = visit.Page.Locator(".of-fleet select");

        await fleet.SelectOptionAsync("tilvane");
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("fleet=tilvane$"));
        await Assertions.Expect(Row(visit, truck)).ToHaveCountAsync(0);
        var theirs = await PerHourAsync(visit);
        await fleet.SelectOptionAsync("*");
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"fleet=\*$|fleet=%2A$"));
        await Assertions.Expect(Row(visit, truck)).ToBeVisibleAsync();
        Assert.True(theirs < await PerHourAsync(visit), "The alarm of another fleet is counted.");
        await fleet.SelectOptionAsync("ostrel");
        await Assertions.Expect(Row(visit, truck)).ToBeVisibleAsync();
        await visit.DrawnAsync();
        // A state is chosen within the fleet.
        await visit.Page.GetByRole(AriaRole.Link, new() { NameRegex = new("^[0-9]+ Unacknowledged$") }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("state=unacknowledged&fleet=ostrel$"));
        await visit.GoAsync($"{demonstration.Address}/now?state=chattering");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Name = "Came three times or more" })).ToBeVisibleAsync();
        await visit.GoAsync($"{demonstration.Address}/now?state=stale&fleet=*");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Name = "Holding for more than 24 h" })).ToBeVisibleAsync();
        // A fleet that is no more, in an address that was kept, hides nothing.
        await visit.GoAsync($"{demonstration.Address}/now?fleet=no-more");
        await Assertions.Expect(Row(visit, truck)).ToBeVisibleAsync();
        await Assertions.Expect(fleet).ToHaveValueAsync("*");
    }

    [Fact]
    public async Task A_vehicle_whose_file_is_gone_goes_from_the_map_without_a_new_page_and_a_press_on_a_mark_leads_to_its_vehicle()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        using var truck = new OwnTruck("WEB-04", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(60, 0, tagRaised: false);
        await Assertions.Expect(visit.Page.Locator(".map")).ToHaveAttributeAsync("data-ready", "true");
        await visit.Page.WaitForFunctionAsync(MarkOf, $"ostrel/{truck.Id}");

        truck.Go();
        await visit.Page.WaitForFunctionAsync($"name => !({MarkOf})(name)", $"ostrel/{truck.Id}");
        await Assertions.Expect(visit.Page.Locator(".map")).ToHaveAttributeAsync("data-ready", "true");

        var other = await visit.Page.EvaluateAsync<string>("() => echarts.getInstanceByDom(document.querySelector('.map')).getOption().series.flatMap(s => s.data).find(d => d.name.startsWith('hrumad/')).name");
        var place = await visit.Page.EvaluateAsync<float[]>(PlaceOf, other);
        await visit.Page.Mouse.ClickAsync(place[0], place[1]);
        // Marks may stand on one another: it is the vehicle of one of them.
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/vehicle/[a-z]+/[A-Z]+-[0-9]+$"));
    }

    private const string MarkOf = "name => echarts.getInstanceByDom(document.querySelector('.map')).getOption().series.some(s => s.data.some(d => d.name === name))";

    private const string PlaceOf = """
        name => {
          const map = document.querySelector('.map'), chart = echarts.getInstanceByDom(map), box = map.getBoundingClientRect();
          const [x, y] = chart.convertToPixel('geo', chart.getOption().series.flatMap(s => s.data).find(d => d.name === name).value);
          return [box.left + x, box.top + y];
        }
        """;

    private static async Task<int> PerHourAsync(Visit visit) => int.Parse(await visit.Page.Locator(".rate .big").InnerTextAsync(), System.Globalization.CultureInfo.InvariantCulture);

    private static ILocator Row(Visit visit, OwnTruck truck) => visit.Page.Locator($"[data-alert^='{truck.Alerts}Overload']");
}

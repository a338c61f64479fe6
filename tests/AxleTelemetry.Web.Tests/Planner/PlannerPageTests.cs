using System.Text.RegularExpressions;
using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Planner;

/// <summary>From what is aboard to what may be.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class PlannerPageTests(Demonstration demonstration)
{
    [Fact]
    public async Task A_load_is_planned_from_what_is_aboard_by_dragging_and_by_the_bars()
    {
        using var truck = new OwnTruck("WEB-31", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(400, 0, tagRaised: true);
        await using var visit = await demonstration.VisitAsync("/vehicle/ostrel/WEB-31", Screen.Desk);
        await visit.Page.GetByRole(AriaRole.Link, new() { Name = "Plan a load" }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/planner\\?vehicle=ostrel/WEB-31$"));
        var raised = visit.Page.Locator(".positions > li").Filter(new() { HasText = "Axle 3 (tag) raised" });
        var down = visit.Page.Locator(".positions > li").Filter(new() { HasText = "All axles down" });
        await Assertions.Expect(raised).ToContainTextAsync("(as it is)");
        await Assertions.Expect(raised).ToContainTextAsync("Not permitted");
        await Assertions.Expect(visit.Page.Locator(".ellipse")).ToHaveCountAsync(1);
        await Assertions.Expect(down).ToContainTextAsync("Sweeps");
        await Assertions.Expect(down).ToContainTextAsync("Moves off on:");

        // What bounds where: each number of the list stands in the picture.
        var bounds = visit.Page.GetByRole(AriaRole.List, new() { Name = "What bounds the payload" }).Locator("li");
        await Assertions.Expect(bounds.Filter(new() { HasText = "Axle 2 (drive)" }).First).ToContainTextAsync(new Regex("at most, .*\\d to \\d+\\.\\d\\d m"));
        for (var i = 0; i < await bounds.CountAsync(); i++)
            await Assertions.Expect(visit.Page.Locator(".mark-number").GetByText($"{i + 1}", new() { Exact = true }).First).ToBeVisibleAsync();
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.List, new() { Name = "The other positions of the lifts" })).ToContainTextAsync("A All axles down: at most");

        // Nearly nothing, in the middle of the load space: every position is permitted.
        await visit.Page.Locator("input[type=range]").First.FillAsync("1000");
        await Assertions.Expect(visit.Page.Locator("output").First).ToHaveTextAsync("1.0 t");
        await Assertions.Expect(raised).ToContainTextAsync("Permitted");

        // To the upper edge of the picture: more than may stand anywhere.
        var picture = (await visit.Page.Locator(".diagram svg").BoundingBoxAsync())!;
        var mark = (await visit.Page.Locator(".tried").BoundingBoxAsync())!;
        await visit.Page.Mouse.MoveAsync(mark.X + mark.Width / 2, mark.Y + mark.Height / 2);
        await visit.Page.Mouse.DownAsync();
        await visit.Page.Mouse.MoveAsync(mark.X + mark.Width / 2, picture.Y + 22, new() { Steps = 5 });
        await visit.Page.Mouse.UpAsync();
        await Assertions.Expect(down).ToContainTextAsync("Not permitted");
        await OfAddressAsync(visit, down);

        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "As aboard now" }).ClickAsync();
        await Assertions.Expect(raised).ToContainTextAsync("Not permitted");
        await Assertions.Expect(visit.Page).Not.ToHaveURLAsync(new Regex("kg="));
    }

    // What is tried is there again for whoever opens its address, and after a look elsewhere.
    private static async Task OfAddressAsync(Visit visit, ILocator down)
    {
        await down.GetByRole(AriaRole.Button).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("vehicle=ostrel%2FWEB-31&kg=\\d+&m=\\d+\\.\\d\\d&lifts=all%20axles%20down$"));
        var tried = await visit.Page.Locator("output").AllInnerTextsAsync();
        await visit.GoAsync(visit.Page.Url);
        await Assertions.Expect(visit.Page.Locator("output")).ToHaveTextAsync(tried);
        await Assertions.Expect(down).ToHaveClassAsync("chosen");
        await visit.Page.GetByRole(AriaRole.Link, new() { Name = "Vehicles" }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/vehicles$"));
        await visit.Page.GoBackAsync();
        await Assertions.Expect(visit.Page.Locator("output")).ToHaveTextAsync(tried);
        await Assertions.Expect(down).ToHaveClassAsync("chosen");
    }

    [Fact]
    public async Task A_trailer_is_planned_with_the_unit_ahead_of_it()
    {
        await using var visit = await demonstration.VisitAsync("/planner?vehicle=ostrel/OST-001", Screen.Desk);
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("is a trailer");
        await visit.GoAsync($"{demonstration.Address}/planner?vehicle=nobody");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("'nobody' is no vehicle here");
    }
}

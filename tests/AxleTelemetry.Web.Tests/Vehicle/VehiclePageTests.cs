using System.Text.RegularExpressions;
using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Vehicle;

/// <summary>From an alert to the vehicle, to a span, to the message of a moment.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class VehiclePageTests(Demonstration demonstration)
{
    [Fact]
    public async Task From_an_alert_to_the_vehicle_to_a_span_to_the_raw_message_of_a_moment()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        using var truck = new OwnTruck("WEB-11", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(600, 0, tagRaised: true);
        await visit.Page.Locator($"[data-alert^='{truck.Alerts}Overload'] .who a").ClickAsync();

        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("WEB-11");
        var axle = visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("^Axle 2 \\(drive\\)") });
        await Assertions.Expect(axle).ToContainTextAsync("own sensor");
        await Assertions.Expect(axle).ToContainTextAsync("surely over");
        await Assertions.Expect(axle).ToContainTextAsync("the calibration of sensor drive");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("^Axle 1 \\(steer\\)") })).ToContainTextAsync("inferred");
        await Assertions.Expect(visit.Page.Locator(".wheel.raised")).ToHaveCountAsync(1);
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("as it is") })).ToContainTextAsync("not permitted");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("^All axles down|^Axle 3 \\(tag\\) down") })).ToContainTextAsync(new Regex("\\d+\\.\\d\\d ± \\d+\\.\\d\\dfuel .* without hub drag"));
        await Assertions.Expect(visit.Page.GetByText("What to do:")).ToBeVisibleAsync();

        await visit.Page.GetByRole(AriaRole.Link, new() { Name = "1 h", Exact = true }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("span=1h$"));
        // The drawing of the span before stands until the new one has been read.
        await visit.Page.WaitForFunctionAsync("() => { const [time] = echarts.getInstanceByDom(document.querySelector('.timeline'))?.getOption().xAxis ?? []; return time?.max - time?.min === 3600000; }");
        var drawing = (await visit.Page.Locator(".timeline").BoundingBoxAsync())!;
        // Five minutes ago, of an hour that is drawn from 52 px on to 14 px before the edge.
        var (x, y) = (52 + drawing.X + (drawing.Width - 66) * 55 / 60, drawing.Y + 250);
        await visit.Page.Mouse.MoveAsync(x, y);
        await Assertions.Expect(visit.Page.Locator(".timeline")).ToContainTextAsync(new Regex("axle 2 \\(drive\\): \\d+\\.\\d ± \\d\\.\\d t, limit 11\\.5 t"));
        await Assertions.Expect(visit.Page.Locator(".timeline")).ToContainTextAsync(new Regex("(driving share|gross|rear group): \\d+\\.\\d ± \\d+\\.\\d t (over|to spare)"));
        await Assertions.Expect(visit.Page.Locator(".timeline")).ToContainTextAsync("km/h: 72");
        await visit.Page.Mouse.ClickAsync(x, y);
        await Assertions.Expect(visit.Page.Locator(".messages pre").First).ToContainTextAsync("\"kpa\"");
    }

    [Fact]
    public async Task One_vehicle_of_the_demonstration_has_a_permit_that_holds()
    {
        await using var visit = await demonstration.VisitAsync("/vehicle/ostrel/ORT-001", Screen.Desk);
        var box = visit.Page.GetByRole(AriaRole.Region, new() { Name = "Permits and the border" });
        await Assertions.Expect(box).ToContainTextAsync("DEMO-1");
        await Assertions.Expect(box).ToContainTextAsync("Holds here.");
    }

    [Fact]
    public async Task Of_a_long_span_it_is_said_that_no_speed_is_read()
    {
        await using var visit = await demonstration.VisitAsync("/vehicle/ostrel/OTR-001?span=7d", Screen.Desk);
        await visit.DrawnAsync();
        await Assertions.Expect(visit.Page.GetByText("for spans of up to two days only")).ToBeVisibleAsync();
        await visit.GoAsync($"{demonstration.Address}/vehicle/ostrel/OTR-001?span=24h");
        await visit.DrawnAsync();
        await Assertions.Expect(visit.Page.GetByText("for spans of up to two days only")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Where_nothing_is_known_of_the_load_it_is_said_for_what_that_is_needed()
    {
        using var truck = new OwnTruck("WEB-12", demonstration);
        await truck.ComeAsync();
        // Too short to be measured.
        await truck.DriveAsync(3, 0, tagRaised: true);
        await using var visit = await demonstration.VisitAsync("/vehicle/ostrel/WEB-12", Screen.Desk);
        await Assertions.Expect(visit.Page.GetByText("What is aboard is not known now")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_vehicle_is_found_by_its_plate_and_the_filter_stands_in_the_address()
    {
        await using var visit = await demonstration.VisitAsync("/vehicles", Screen.Desk);
        await visit.Page.GetByRole(AriaRole.Searchbox).FillAsync("ttp 001");
        await visit.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("find=ttp%20001$"));
        await Assertions.Expect(visit.Page.Locator("tbody tr[aria-rowindex]")).ToHaveCountAsync(1);
        await visit.Page.GetByRole(AriaRole.Link, new() { Name = "TTP-001" }).ClickAsync();
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("TTP-001");
    }
}

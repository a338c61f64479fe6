using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Vehicle;

/// <summary>Permits, and the laws of both sides of a border, as one sees them.</summary>
public sealed class LawBoxTests(BorderService border) : IClassFixture<BorderService>
{
    [Fact]
    public async Task A_permit_that_holds_is_shown_with_its_days_its_speed_and_what_it_asks()
    {
        await using var visit = await border.VisitAsync(BorderService.Keeps, Screen.Desk);
        var box = Box(visit);
        await Assertions.Expect(box).ToContainTextAsync("HEAVY-7");
        await Assertions.Expect(box).ToContainTextAsync("permit of an authority of this test");
        await Assertions.Expect(box).ToContainTextAsync("Holds here.");
        await Assertions.Expect(box).ToContainTextAsync($"to {DateTimeOffset.UtcNow.AddDays(10):yyyy-MM-dd}, in SI, IT");
        await Assertions.Expect(box).ToContainTextAsync("at most 90 km/h");
        await Assertions.Expect(box).ToContainTextAsync("Not between sunset and sunrise; With a vehicle ahead");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("^Gross") })).ToContainTextAsync("Permit HEAVY-7");
    }

    [Fact]
    public async Task A_permit_that_was_driven_too_fast_for_is_shown_broken()
    {
        await using var visit = await border.VisitAsync(BorderService.Breaks, Screen.Desk);
        await Assertions.Expect(Box(visit)).ToContainTextAsync("SLOW-8");
        await Assertions.Expect(Box(visit)).ToContainTextAsync("Broken by speed");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Row, new() { NameRegex = new("^Gross") })).Not.ToContainTextAsync("Permit SLOW-8");
    }

    [Fact]
    public async Task Where_the_side_cannot_be_told_both_laws_stand_beside_each_other()
    {
        await using var visit = await border.VisitAsync(BorderService.Keeps, Screen.Desk);
        await Assertions.Expect(Box(visit)).ToContainTextAsync("The side of the border cannot be told");
        var drive = Box(visit).GetByRole(AriaRole.Row, new() { NameRegex = new("^Axle 2 \\(drive\\)") });
        await Assertions.Expect(drive.GetByRole(AriaRole.Cell).Nth(0)).ToContainTextAsync("11.5 t");
        await Assertions.Expect(drive.GetByRole(AriaRole.Cell).Nth(1)).ToContainTextAsync("12.0 t");
    }

    [Fact]
    public async Task It_violates_no_rule_and_fits_on_the_desk_and_in_the_hand()
    {
        foreach (var screen in Screen.All)
        {
            foreach (var vehicle in new[] { BorderService.Keeps, BorderService.Breaks })
            {
                await using var visit = await border.VisitAsync(vehicle, screen);
                await Assertions.Expect(Box(visit)).ToBeVisibleAsync();
                await visit.PictureAsync($"border-{vehicle}-{screen}", whole: true);
                Assert.True(await visit.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"), $"{vehicle} is wider than {screen}.");
                await AccessibilityTests.ExpectNoViolationAsync(visit, screen);
            }
        }
    }

    private static ILocator Box(Visit visit) => visit.Page.GetByRole(AriaRole.Region, new() { Name = "Permits and the border" });
}

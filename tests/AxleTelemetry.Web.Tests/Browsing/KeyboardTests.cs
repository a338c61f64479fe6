using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>Everything without a mouse.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class KeyboardTests(Demonstration demonstration)
{
    private const int MostStops = 60;

    [Fact]
    public async Task By_the_keyboard_alone_one_opens_an_alert_and_goes_to_its_vehicle()
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        // One begins at the heading of the page; before it stands the way past the frame.
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeFocusedAsync();
        await visit.Page.Locator("a.skip").FocusAsync();
        await Assertions.Expect(visit.Page.Locator("a.skip")).ToBeInViewportAsync();
        await TabToAsync(visit, "button[aria-expanded][aria-label^='Details']");
        await visit.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visit.Page.Locator(":focus")).ToHaveAttributeAsync("aria-expanded", "true");
        await visit.GoAsync($"{demonstration.Address}/now");
        await TabToAsync(visit, ".alert .who a");
        await visit.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeFocusedAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/vehicle/"));
    }

    // What has the focus is seen: an outline of its own.
    private static async Task TabToAsync(Visit visit, string selector)
    {
        for (var i = 0; i < MostStops; i++)
        {
            await visit.Page.Keyboard.PressAsync("Tab");
            var seen = await visit.Page.EvaluateAsync<bool>("() => { const s = getComputedStyle(document.activeElement); return s.outlineStyle !== 'none' || document.activeElement === document.body; }");
            Assert.True(seen, await visit.Page.EvaluateAsync<string>("() => document.activeElement.outerHTML.slice(0, 200)"));
            if (await visit.Page.EvaluateAsync<bool>("s => document.activeElement.matches(s)", selector)) return;
        }

        Assert.Fail($"'{selector}' is not reached by {MostStops} stops.");
    }
}

using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>Pages on paper: black on white whatever the look, without what one presses, nothing cut off, with what must be said beside them and when it was printed.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class PrintTests(Demonstration demonstration)
{
    // A4 upright less its margins, at 96 dots an inch.
    private const int Wide = 703, High = 1032;

    [Theory]
    [InlineData("/vehicle/tilvane/TTP-001")]
    [InlineData("/planner?vehicle=ostrel/OTR-001")]
    [InlineData("/vehicles")]
    public async Task It_prints_black_on_white_with_cautions_and_time_and_nothing_cut_off(string page)
    {
        foreach (var isDark in new[] { false, true })
        {
            await using var visit = await demonstration.VisitAsync(page, Screen.Desk with { IsDark = isDark });
            await visit.DrawnAsync();
            await visit.Page.PdfAsync(new() { Path = visit.FileOf($"print-{page.Trim('/')}-{(isDark ? "dark" : "light")}", "pdf"), Format = "A4", PrintBackground = true, PreferCSSPageSize = false });
            await visit.Page.EmulateMediaAsync(new() { Media = Media.Print });
            await visit.Page.SetViewportSizeAsync(Wide, High);
            await visit.PictureAsync($"print-{page.Trim('/')}-{(isDark ? "dark" : "light")}", whole: true);

            await Assertions.Expect(visit.Page.Locator("body")).ToHaveCSSAsync("background-color", "rgb(255, 255, 255)");
            await Assertions.Expect(visit.Page.Locator("body")).ToHaveCSSAsync("color", "rgb(0, 0, 0)");
            await Assertions.Expect(visit.Page.Locator("nav")).ToBeHiddenAsync();
            Assert.Equal(0, await visit.Page.Locator("main button:not(.plain):visible, main input:visible").CountAsync());
            await Assertions.Expect(visit.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
            await Assertions.Expect(visit.Page.Locator("footer")).ToContainTextAsync("not a certified weighing");
            await Assertions.Expect(visit.Page.Locator("footer")).ToContainTextAsync("local law and permits come first");
            await Assertions.Expect(visit.Page.Locator("footer")).ToContainTextAsync("never moves an axle");
            // As the foot of a table it stands on every sheet.
            await Assertions.Expect(visit.Page.Locator("footer")).ToHaveCSSAsync("display", "table-footer-group");
            await Assertions.Expect(visit.Page.Locator("footer")).ToHaveCSSAsync("break-inside", "avoid");
            // Told by the printing itself, in the zone of whoever prints.
            await Assertions.Expect(visit.Page.Locator("footer .printed")).ToHaveTextAsync(new Regex($"^Printed .* {DateTimeOffset.UtcNow.Year} .*\\(Europe/Madrid\\), http://"));
            var cut = await visit.Page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('main *')].filter(e => !e.closest('svg') && e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1).map(e => e.outerHTML.slice(0, 120))");
            Assert.Empty(cut);
        }
    }
}

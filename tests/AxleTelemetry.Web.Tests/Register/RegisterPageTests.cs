using System.Globalization;
using System.Text.RegularExpressions;
using AxleTelemetry.Web.Tests.Browsing;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Register;

/// <summary>What a compliance officer does when a letter comes.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class RegisterPageTests(Demonstration demonstration)
{
    private static readonly AxeRunOptions Rules = new() { RunOnly = new() { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } };

    [Fact]
    public async Task An_overload_is_found_by_plate_and_place_with_who_knew_of_it_and_taken_along_as_csv()
    {
        using var truck = new OwnTruck("WEB-21", demonstration);
        await using var visit = await demonstration.VisitAsync("/register", Screen.Desk);
        await truck.ComeAsync();
        await truck.DriveAsync(600, 180, tagRaised: true);
        await truck.DriveAsync(180, 0, tagRaised: false);
        await visit.Page.GetByRole(AriaRole.Searchbox).FillAsync("web-21 x");
        await visit.Page.GetByLabel("Around a place").FillAsync("46.5 14.2 30");
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Show", Exact = true }).ClickAsync();
        await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("find=web-21%20x&place=46.5%2014.2%2030$"));
        var row = visit.Page.Locator("tbody tr").Filter(new() { HasTextRegex = new("WEB-21.*axle 2 \\(drive\\) over its limit") });
        await Assertions.Expect(row).ToContainTextAsync("surely");
        await Assertions.Expect(row).ToContainTextAsync("96/53/EC");

        await row.GetByRole(AriaRole.Button).ClickAsync();
        await Assertions.Expect(visit.Page.Locator(".findings")).ToContainTextAsync("Began.");
        await Assertions.Expect(visit.Page.Locator(".facts")).ToContainTextAsync("No finding of an authority");

        var file = await visit.Page.APIRequest.GetAsync($"{demonstration.Address}/register.csv?find=web-21%20x");
        var lines = (await file.TextAsync()).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("since,ended,fleet,vehicle,plate,about,reached,limit_kg,", lines[0]);
        Assert.True(lines.Length > 1);
        Assert.All(lines.Skip(1), l => Assert.Contains("WEB-21", l));

        var json = await visit.Page.APIRequest.GetAsync($"{demonstration.Address}/register.json?find=web-21%20x");
        Assert.Equal(lines.Length - 1, (await json.JsonAsync())!.Value.GetArrayLength());
        await SheetAsync(visit);

        await visit.GoAsync($"{demonstration.Address}/register?find=web-21%20x&place=40%2010%205");
        await Assertions.Expect(visit.Page.GetByText("No overload fits.")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task The_order_on_the_screen_stands_in_the_address_and_is_that_of_the_files()
    {
        await using var visit = await demonstration.VisitAsync("/register", Screen.Desk);
        var page = visit.Page;
        await visit.DrawnAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Peak excess" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex(@"/register\?sort=-peak$"));
        await Assertions.Expect(page.Locator("th[aria-sort='descending']")).ToHaveTextAsync("Peak excess");
        await page.GetByRole(AriaRole.Link, new() { Name = "Peak excess" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("sort=peak$"));
        await Assertions.Expect(page.Locator("th[aria-sort='ascending']")).ToHaveTextAsync("Peak excess");
        await visit.DrawnAsync();

        var peaks = await PeaksAsync(visit, "/register.csv?sort=peak");
        Assert.Equal(peaks.Order(), peaks);
        Assert.True(peaks[0] < peaks[^1], "Too few to tell.");
        // The head says the order a moment before the rows have it.
        await page.WaitForFunctionAsync("() => { const shown = [...document.querySelectorAll('tbody tr[aria-rowindex] td:nth-child(7) b')].map(e => Number(e.textContent)); return shown.length > 1 && shown[0] < shown.at(-1) && shown.every((peak, i) => i === 0 || shown[i - 1] <= peak); }");
        // What the page links to is what it shows.
        Assert.Equal("/register.csv?sort=peak", await page.GetByRole(AriaRole.Link, new() { Name = "CSV of what is shown" }).GetAttributeAsync("href"));
        Assert.Equal("/register/sheet?sort=peak", await page.GetByRole(AriaRole.Link, new() { Name = "Sheet to print" }).GetAttributeAsync("href"));
        await page.GoBackAsync();
        await Assertions.Expect(page.Locator("th[aria-sort='descending']")).ToHaveTextAsync("Peak excess");

        await page.GotoAsync($"{demonstration.Address}/register/sheet?sort=peak");
        var printed = (await page.Locator("tbody tr td:nth-child(6)").AllInnerTextsAsync()).Select(t => double.Parse(t.Split(' ')[0], CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal(printed.Order(), printed);
        Assert.True(printed.Length >= peaks.Length);
    }

    [Fact]
    public async Task An_overload_that_is_opened_is_brought_into_sight_and_let_go_of_again()
    {
        await using var visit = await demonstration.VisitAsync("/register", Screen.Desk);
        await visit.DrawnAsync();
        await visit.Page.Locator("tbody tr[aria-rowindex]").First.GetByRole(AriaRole.Button).ClickAsync();
        await Assertions.Expect(visit.Page.Locator("#episode-title")).ToBeFocusedAsync();
        await Assertions.Expect(visit.Page.Locator("#episode-title")).ToBeInViewportAsync();
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Close", Exact = true }).ClickAsync();
        await Assertions.Expect(visit.Page.Locator(".grid-frame")).ToBeFocusedAsync();
    }

    [Fact]
    public async Task What_is_still_open_is_found_in_a_span_that_began_after_it_last_changed()
    {
        using var truck = new OwnTruck("WEB-22", demonstration);
        await truck.ComeAsync();
        await truck.DriveAsync(600, 60, tagRaised: true);
        await using var visit = await demonstration.VisitAsync(FormattableString.Invariant($"/register?find=web-22&from={DateTimeOffset.UtcNow.AddMinutes(1).ToUnixTimeMilliseconds()}"), Screen.Desk);
        var row = visit.Page.Locator("tbody tr").Filter(new() { HasTextRegex = new("WEB-22.*axle 2 \\(drive\\) over its limit") });
        await Assertions.Expect(row).ToContainTextAsync("still open");
    }

    private async Task<double[]> PeaksAsync(Visit visit, string address)
    {
        var lines = (await (await visit.Page.APIRequest.GetAsync(demonstration.Address + address)).TextAsync()).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var at = lines[0].Split(',').IndexOf("peak_excess_kg");
        // No field before it holds a comma.
        return [.. lines.Skip(1).Select(l => double.Parse(l.Split(',')[at], CultureInfo.InvariantCulture))];
    }

    [Theory]
    [InlineData("/register.csv?place=here", "place: 'here' is not latitude, longitude and kilometres")]
    [InlineData("/register.json?from=999999999999999999", "from: '999999999999999999' is not")]
    [InlineData("/register.csv?from=-9223372036854775808", "from: '-9223372036854775808' is not")]
    [InlineData("/register.csv?to=-999999999999999999", "to: '-999999999999999999' is not")]
    [InlineData("/register.csv?sort=size", "sort: 'size' is not one of since, lasted,")]
    [InlineData("/vehicles.csv?sort=-size", "sort: '-size' is not one of condition, vehicle,")]
    [InlineData("/vehicles.csv?condition=Heavy", "condition: 'Heavy' is not one of Over")]
    public async Task A_file_that_is_asked_for_wrongly_is_none(string address, string why)
    {
        await using var visit = await demonstration.VisitAsync("/register", Screen.Desk);
        var answer = await visit.Page.APIRequest.GetAsync(demonstration.Address + address);
        Assert.Equal(400, answer.Status);
        Assert.Contains(why, (await answer.JsonAsync())!.Value.GetProperty("detail").GetString());
    }

    [Theory]
    [InlineData("/register")]
    [InlineData("/register/sheet")]
    [InlineData("/vehicle/ostrel/OTR-001")]
    public async Task A_span_of_no_calendar_narrows_nothing_and_stops_no_page(string page)
    {
        await using var visit = await demonstration.VisitAsync("/now", Screen.Desk);
        foreach (var no in (string[])["999999999999999999", "last-week"])
        {
            await visit.Page.GotoAsync($"{demonstration.Address}{page}?from={no}&to={no}");
            await Assertions.Expect(visit.Page.Locator(page.StartsWith("/vehicle/", StringComparison.Ordinal) ? ".timeline, [data-ready]" : "tbody tr").First).ToBeVisibleAsync();
        }
    }

    // The sheet holds every line, not just those that a screen would show, and goes onto paper whole.
    private async Task SheetAsync(Visit visit)
    {
        var page = visit.Page;
        await page.GotoAsync($"{demonstration.Address}/register/sheet");
        var all = (await page.APIRequest.GetAsync($"{demonstration.Address}/register.csv")).TextAsync();
        Assert.Equal((await all).Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length - 1, await page.Locator("tbody tr").CountAsync());
        await Assertions.Expect(page.Locator("main > p").First).ToContainTextAsync("for demonstration. Times are of Europe/Madrid.");
        Assert.Empty((await page.RunAxe(Rules)).Violations.Select(v => $"{v.Id}: {v.Help}"));
        Assert.True(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"));
        await visit.PictureAsync("register-sheet", whole: true);
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator("footer.frame")).ToBeVisibleAsync();
        await visit.PictureAsync("register-sheet-printed", whole: true);
        await page.EmulateMediaAsync(new() { Media = Media.Screen });
    }
}

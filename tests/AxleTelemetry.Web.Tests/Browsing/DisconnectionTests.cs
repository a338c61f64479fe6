using AxleTelemetry.Web.Tests.People;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>A page that is open all day outlives the service.</summary>
public sealed class DisconnectionTests
{
    [Fact]
    public async Task A_page_says_that_the_service_is_gone_and_goes_on_at_its_address_once_it_is_back()
    {
        if (!Chromium.IsInstalled) Assert.Skip($"No browser at {Chromium.Path}: install the package 'chromium', or name one in CHROMIUM.");
        await using var service = await FreshService.StartAsync();
        await using var chromium = await Chromium.StartAsync();
        // No visit: that the service cannot be reached is what its console is to complain of.
        var window = await chromium.WindowAsync(Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync(service.Link);
        await page.GetByLabel("Name").FillAsync("ada");
        await page.GetByLabel("New password").FillAsync("four plain words here");
        await page.GetByLabel("The same again").FillAsync("four plain words here");
        await page.GetByRole(AriaRole.Button, new() { Name = "Set the password" }).ClickAsync();
        await page.GotoAsync($"{service.Address}/now?state=shelved");
        await AliveAsync(page);
        await page.EvaluateAsync("() => { document.documentElement.dataset.before = 'yes'; }");

        await service.KillAsync();
        var lost = page.GetByText("Not connected: what is shown may be old.");
        await Assertions.Expect(lost).ToBeVisibleAsync(new() { Timeout = 30_000 });
        await service.AgainAsync();
        await page.WaitForFunctionAsync("() => document.documentElement.dataset.before !== 'yes'", null, new() { Timeout = 60_000 });
        await AliveAsync(page);
        await Assertions.Expect(lost).ToBeHiddenAsync();
        Assert.Equal($"{service.Address}/now?state=shelved", page.Url);
    }

    private static Task AliveAsync(IPage page) => page.WaitForFunctionAsync("() => document.documentElement.dataset.alive === 'yes'");
}

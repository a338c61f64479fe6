using AxleTelemetry.Web.Tests.Browsing;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.People;

/// <summary>A newcomer with a real browser: from the first start to a colleague who may look.</summary>
public sealed class SignInPageTests
{
    private const string Words = "four plain words here";

    private static readonly AxeRunOptions Rules = new() { RunOnly = new() { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } };

    [Fact]
    public async Task From_the_first_start_to_a_colleague_who_may_look()
    {
        if (!Chromium.IsInstalled) Assert.Skip($"No browser at {Chromium.Path}: install the package 'chromium', or name one in CHROMIUM.");
        await using var service = await FreshService.StartAsync();
        await using var chromium = await Chromium.StartAsync();
        string colleaguesLink;
        await using (var visit = await Visit.BeginAsync(chromium, Screen.Desk))
        {
            var page = visit.Page;
            // Whoever just opens the address is led to the door.
            await page.GotoAsync(service.Address);
            await Assertions.Expect(page).ToHaveURLAsync($"{service.Address}/sign-in?back=%2F");
            await LookedAtAsync(visit, "sign-in");
            await page.GotoAsync(service.Link);
            await LookedAtAsync(visit, "one-time");
            await page.GetByLabel("Name").FillAsync("ada");
            await SetPasswordAsync(page);
            await Assertions.Expect(page).ToHaveURLAsync($"{service.Address}/now");
            await page.WaitForFunctionAsync("() => document.documentElement.dataset.alive === 'yes'");
            await Assertions.Expect(page.Locator(".person")).ToHaveTextAsync("ada");

            await page.GetByRole(AriaRole.Link, new() { Name = "Set-up" }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "People", Exact = true })).ToBeVisibleAsync();
            await page.GetByRole(AriaRole.Textbox, new() { Name = "Add somebody" }).FillAsync("bo");
            await page.GetByRole(AriaRole.Button, new() { Name = "Add", Exact = true }).ClickAsync();
            colleaguesLink = await page.GetByRole(AriaRole.Textbox, new() { Name = "One-time link" }).InputValueAsync();
            await page.GetByRole(AriaRole.Textbox, new() { Name = "Make a token for a program called" }).FillAsync("scale");
            await page.GetByRole(AriaRole.Button, new() { Name = "Make", Exact = true }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Textbox, new() { Name = "Token", Exact = true })).ToBeVisibleAsync();
            await LookedAtAsync(visit, "set-up-people");
            await page.GetByRole(AriaRole.Link, new() { Name = "What happened to accounts" }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Cell, new() { Name = "token made" })).ToBeVisibleAsync();
            await LookedAtAsync(visit, "set-up-events");
            await page.GetByRole(AriaRole.Link, new() { Name = "Who read what" }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Cell, new() { Name = "/now", Exact = true })).ToBeVisibleAsync();
            await LookedAtAsync(visit, "set-up-accesses");
            await page.GetByRole(AriaRole.Link, new() { Name = "ada" }).ClickAsync();
            await LookedAtAsync(visit, "password");
        }

        await using (var visit = await Visit.BeginAsync(chromium, Screen.Hand))
        {
            var page = visit.Page;
            await page.GotoAsync(colleaguesLink);
            await SetPasswordAsync(page);
            await Assertions.Expect(page.Locator(".person")).ToHaveTextAsync("bo");
            await page.WaitForFunctionAsync("() => document.documentElement.dataset.alive === 'yes'");
            await Assertions.Expect(page.GetByRole(AriaRole.Link, new() { Name = "Set-up" })).ToHaveCountAsync(0);
            // The living page has a form that works as well.
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
            await Assertions.Expect(page).ToHaveURLAsync($"{service.Address}/sign-in");
            await page.GetByLabel("Name").FillAsync("bo");
            await page.GetByLabel("Password").FillAsync("no words of mine");
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("do not fit");
            await page.GetByLabel("Password").FillAsync(Words);
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
            await Assertions.Expect(page).ToHaveURLAsync($"{service.Address}/now");
        }
    }

    private static async Task SetPasswordAsync(IPage page)
    {
        await page.GetByLabel("New password").FillAsync(Words);
        await page.GetByLabel("The same again").FillAsync(Words);
        await page.GetByRole(AriaRole.Button, new() { Name = "Set the password" }).ClickAsync();
    }

    /// <summary>On the desk and in the hand, light and dark: nothing runs over the edge, nobody is kept out.</summary>
    private static async Task LookedAtAsync(Visit visit, string name)
    {
        foreach (var screen in Screen.All)
        {
            await visit.Page.SetViewportSizeAsync(screen.Width, screen.Height);
            await visit.Page.EmulateMediaAsync(new() { ColorScheme = screen.IsDark ? ColorScheme.Dark : ColorScheme.Light });
            await visit.PictureAsync($"{name}-{screen}");
            Assert.True(await visit.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"), $"{name} is wider than {screen}.");
            var found = await visit.Page.RunAxe(Rules);
            Assert.True(found.Violations.Length == 0, $"{name} {screen}: " + string.Join('\n', found.Violations.Select(v => $"{v.Id}: {v.Help} at {string.Join(", ", v.Nodes.Select(n => n.Target))}")));
        }

        await visit.Page.SetViewportSizeAsync(Screen.Desk.Width, Screen.Desk.Height);
    }
}

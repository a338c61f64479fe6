using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.People;

/// <summary>A service as it is set up for the first time: who comes first, whom he lets in, who is kept out.</summary>
public sealed class SignInTests : IAsyncLifetime
{
    private const string Password = "a long enough pass phrase";

    private readonly DirectoryInfo _home = Directory.CreateTempSubdirectory("axle-first-");
    private RunningProgram? _service;
    private Chromium? _browser;
    private string _address = "", _first = "";

    public async ValueTask InitializeAsync()
    {
        if (!Chromium.IsInstalled) return;
        _browser = await Chromium.StartAsync();
        Directory.CreateDirectory(Path.Combine(_home.FullName, "vehicles"));
        File.Copy(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json"), Path.Combine(_home.FullName, "vehicles", "rigid.json"));
        _address = $"http://127.0.0.1:{Demonstration.FreePort()}";
        var settings = Path.Combine(_home.FullName, "settings.json");
        await File.WriteAllTextAsync(settings, new JsonObject
        {
            ["data_directory"] = "data",
            ["embedded_broker"] = new JsonObject { ["listen"] = $"127.0.0.1:{Demonstration.FreePort()}" },
            ["http"] = new JsonObject { ["listen"] = _address["http://".Length..] },
            ["fleets"] = new JsonObject { ["own"] = new JsonObject { ["vehicles"] = "vehicles" } },
        }.ToJsonString());
        _service = RunningProgram.Build("serve", "--settings", settings);
        await _service.Output.Until("/first?key=");
        _first = Regex.Match(string.Join('\n', _service.Output.All), @"http://\S+/first\?key=\w+").Value;
    }

    [Fact]
    public async Task The_first_administrator_lets_a_viewer_in_who_may_look_and_not_act_and_a_guesser_is_locked_out()
    {
        if (_browser is null) Assert.Skip($"No browser at {Chromium.Path}.");
        await using (var visit = await Visit.BeginAsync(_browser, Screen.Desk))
        {
            // Nobody comes in before.
            await visit.Page.GotoAsync($"{_address}/now");
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/sign-in"));
            await visit.Page.GotoAsync(_first);
            await FillAsync(visit.Page, "first");
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/sign-in$"));
            await visit.Page.GotoAsync(_first);
            await Assertions.Expect(visit.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("has been used");

            await visit.Page.GotoAsync($"{_address}/set-up");
            await FillAsync(visit.Page, "first");
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/set-up$"));
            await visit.AliveAsync();
            await visit.PictureAsync("set-up-1440x900-light", whole: true);
            await visit.Page.GetByLabel("Name").FillAsync("looker");
            await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Add the person" }).ClickAsync();
            var link = await visit.Page.Locator("code").TextContentAsync();
            await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Remove: first" }).ClickAsync();
            await Assertions.Expect(visit.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("The last administrator stays");
            await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/sign-in$"));

            await visit.Page.GotoAsync(link!);
            await visit.Page.GetByLabel("New password").FillAsync(Password);
            await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Enter" }).ClickAsync();
            await FillAsync(visit.Page, "looker");
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/now$"));
            await visit.Page.GotoAsync($"{_address}/set-up");
            await Assertions.Expect(visit.Page).ToHaveURLAsync(new Regex("/not-allowed"));
        }

        await using var guess = await Visit.BeginAsync(_browser, Screen.Hand);
        await guess.Page.GotoAsync($"{_address}/sign-in");
        await guess.PictureAsync("sign-in-390x844-light");
        for (var i = 0; i < 6; i++) await FillAsync(guess.Page, "looker", $"wrong password {i}");
        await Assertions.Expect(guess.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("locked for 15 minutes");
        await FillAsync(guess.Page, "looker");
        await Assertions.Expect(guess.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("locked for 15 minutes");
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        if (_service is not null) await _service.DisposeAsync();
        _home.Delete(recursive: true);
    }

    private static async Task FillAsync(IPage page, string name, string password = Password)
    {
        await page.GetByLabel("Name").FillAsync(name);
        await page.GetByLabel(new Regex("assword")).FillAsync(password);
        await page.Locator("form button").ClickAsync();
    }
}

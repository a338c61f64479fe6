using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Web.Tests.Browsing;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Vehicle;

/// <summary>A service with two trucks on national trips beside a border, of which each has a permit: one keeps it, one breaks it.</summary>
public sealed class BorderService : IAsyncLifetime
{
    public const string Fleet = "beside", Keeps = "BRD-1", Breaks = "BRD-2";

    // On the outline between Slovenia and Italy: 11.5 t and 12 t on a driven axle (the tables shipped, International Transport Forum of about 2013).
    private const double Latitude = 45.64357, Longitude = 13.866;
    private const string Password = "a long enough pass phrase";

    private readonly DirectoryInfo _home = Directory.CreateTempSubdirectory("axle-border-");
    private readonly int _broker = Demonstration.FreePort();
    private RunningProgram? _service;
    private Chromium? _browser;
    private Cookie[] _signedIn = [];

    public string Address { get; } = FormattableString.Invariant($"http://127.0.0.1:{Demonstration.FreePort()}");

    public async ValueTask InitializeAsync()
    {
        if (!Chromium.IsInstalled) return;
        var vehicles = Directory.CreateDirectory(Path.Combine(_home.FullName, "vehicles"));
        var file = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json")))!;
        foreach (var id in new[] { Keeps, Breaks })
        {
            (file["id"], file["plate"]) = (id, $"{id} X");
            await File.WriteAllTextAsync(Path.Combine(vehicles.FullName, $"{id}.json"), file.ToJsonString());
        }

        await File.WriteAllTextAsync(In("permits.json"), new JsonObject { ["permits"] = new JsonArray(Permit("HEAVY-7", Keeps, 90), Permit("SLOW-8", Breaks, 60)) }.ToJsonString());
        await File.WriteAllTextAsync(In("settings.json"), new JsonObject
        {
            ["data_directory"] = "data",
            ["embedded_broker"] = new JsonObject { ["listen"] = $"127.0.0.1:{_broker}" },
            ["http"] = new JsonObject { ["listen"] = Address["http://".Length..] },
            ["fleets"] = new JsonObject { [Fleet] = new JsonObject { ["vehicles"] = "vehicles", ["trip"] = "national", ["permits"] = new JsonArray("permits.json") } },
        }.ToJsonString());
        _service = RunningProgram.Build("serve", "--settings", In("settings.json"));
        await _service.Output.Until("/one-time?code=");
        foreach (var id in new[] { Keeps, Breaks })
        {
            using var truck = new Truck(Fleet, id) { End = (Latitude, Longitude, Northward: false) };
            await truck.ConnectAsync(_broker);
            await truck.DriveAsync(400, 0, tagRaised: true);
        }

        _browser = await Chromium.StartAsync();
        await using var door = await Visit.BeginAsync(_browser, Screen.Desk);
        await door.Page.GotoAsync(Regex.Match(string.Join('\n', _service.Output.All), @"http://\S+/one-time\?code=[\w-]+").Value);
        await door.Page.GetByLabel("Name").FillAsync("first");
        await door.Page.GetByLabel("New password").FillAsync(Password);
        await door.Page.GetByLabel("The same again").FillAsync(Password);
        await door.Page.GetByRole(AriaRole.Button, new() { Name = "Set the password" }).ClickAsync();
        await door.Page.WaitForURLAsync(new Regex("/now"));
        _signedIn = [.. (await door.Page.Context.CookiesAsync()).Select(c => new Cookie { Name = c.Name, Value = c.Value, Domain = c.Domain, Path = c.Path, HttpOnly = c.HttpOnly })];
    }

    /// <summary>Looks at a vehicle, signed in. Skips where no browser is.</summary>
    public async Task<Visit> VisitAsync(string vehicle, Screen screen)
    {
        if (_browser is null) Assert.Skip($"No browser at {Chromium.Path}.");
        var visit = await Visit.BeginAsync(_browser, screen);
        // Ten tries to sign in a minute are taken from one place, so it is done once.
        await visit.Page.Context.AddCookiesAsync(_signedIn);
        await visit.GoAsync($"{Address}/vehicle/{Fleet}/{vehicle}");
        await visit.DrawnAsync();
        return visit;
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        if (_service is not null) await _service.DisposeAsync();
        _home.Delete(recursive: true);
    }

    private string In(string name) => Path.Combine(_home.FullName, name);

    private static JsonObject Permit(string id, string vehicle, int mostKmh) => new()
    {
        ["id"] = id,
        ["authority"] = "an authority of this test",
        ["vehicles"] = new JsonArray(vehicle),
        ["countries"] = new JsonArray("SI", "IT"),
        ["from"] = Day(-10),
        ["until"] = Day(10),
        ["most_speed_kmh"] = mostKmh,
        ["obligations"] = new JsonArray("Not between sunset and sunrise", "With a vehicle ahead"),
        ["limits"] = new JsonArray(new JsonObject { ["gross"] = vehicle, ["most_kg"] = 27_500, ["clause"] = "2" }),
    };

    private static string Day(int days) => DateTimeOffset.UtcNow.AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

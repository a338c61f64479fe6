using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;
using Microsoft.Playwright;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>How fast pages are with a large fleet aboard. FLEET says how many vehicles; figures are written into the output, and into DEVELOPERS.md (Decisions) for 10 000.</summary>
public sealed class LargeFleetTests(ITestOutputHelper output) : IAsyncLifetime
{
    private const int Usual = 300, SamplesOfEach = 180, Rounds = 5;
    private const string Password = "a long enough pass phrase";

    private readonly DirectoryInfo _home = Directory.CreateTempSubdirectory("axle-large-");
    private readonly int _broker = Demonstration.FreePort();
    private readonly string _address = $"http://127.0.0.1:{Demonstration.FreePort()}";
    private RunningProgram? _service;
    private Chromium? _browser;

    private static int Vehicles => int.TryParse(Environment.GetEnvironmentVariable("FLEET"), CultureInfo.InvariantCulture, out var vehicles) ? vehicles : Usual;

    public async ValueTask InitializeAsync()
    {
        if (!Chromium.IsInstalled) return;
        var directory = Directory.CreateDirectory(Path.Combine(_home.FullName, "vehicles"));
        var file = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json")))!;
        for (var i = 0; i < Vehicles; i++)
        {
            (file["id"], file["plate"]) = (Name(i), $"L {i}");
            await File.WriteAllTextAsync(Path.Combine(directory.FullName, $"{Name(i)}.json"), file.ToJsonString());
        }

        var settings = Path.Combine(_home.FullName, "settings.json");
        await File.WriteAllTextAsync(settings, new JsonObject
        {
            ["data_directory"] = "data",
            ["embedded_broker"] = new JsonObject { ["listen"] = $"127.0.0.1:{_broker}" },
            ["http"] = new JsonObject { ["listen"] = _address["http://".Length..] },
            ["fleets"] = new JsonObject { ["own"] = new JsonObject { ["vehicles"] = "vehicles" } },
        }.ToJsonString());
        _service = RunningProgram.Build("serve", "--settings", settings);
        await _service.Output.Until("/one-time?code=");
        await DriveAsync();
        _browser = await Chromium.StartAsync();
    }

    [Fact]
    public async Task The_first_page_is_there_within_a_second_and_a_press_is_answered_at_once()
    {
        if (_browser is null) Assert.Skip($"No browser at {Chromium.Path}.");
        await using var visit = await Visit.BeginAsync(_browser, Screen.Desk);
        var page = visit.Page;
        await page.GotoAsync(Regex.Match(string.Join('\n', _service!.Output.All), @"http://\S+/one-time\?code=[\w-]+").Value);
        await FillAsync(page);
        await page.WaitForURLAsync(new Regex("/now"));
        await visit.DrawnAsync();
        List<double> first = [], alive = [], table = [], early = [], press = [];
        for (var i = 0; i < Rounds; i++)
        {
            var began = Stopwatch.GetTimestamp();
            await page.GotoAsync($"{_address}/now", new() { WaitUntil = WaitUntilState.DOMContentLoaded });
            first.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            await visit.AliveAsync();
            alive.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            early.Add(await PressAsync(page));
            await visit.DrawnAsync();
            press.Add(await PressAsync(page));
            began = Stopwatch.GetTimestamp();
            await page.GotoAsync($"{_address}/vehicles", new() { WaitUntil = WaitUntilState.DOMContentLoaded });
            await page.Locator("tbody tr[aria-rowindex]").First.WaitForAsync();
            table.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }

        output.WriteLine(FormattableString.Invariant($"{Vehicles} vehicles: first page {Median(first):0} ms, answers presses after {Median(alive):0} ms, a press {Median(press):0} ms ({Median(early):0} ms while the map is still drawn), table of vehicles {Median(table):0} ms (medians of {Rounds})."));
        Assert.True(Median(first) < 1000, $"The first page took {Median(first):0} ms.");
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        if (_service is not null) await _service.DisposeAsync();
        _home.Delete(recursive: true);
    }

    private static string Name(int i) => string.Create(CultureInfo.InvariantCulture, $"L-{i:00000}");

    // From the press to the change in the page, by the page's own clock.
    private static Task<double> PressAsync(IPage page) => page.Locator(".acts button[aria-expanded]:last-child").First
        .EvaluateAsync<double>("b => new Promise(done => { const began = performance.now(); new MutationObserver(() => done(performance.now() - began)).observe(b, { attributes: true }); b.click(); })");

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private static async Task FillAsync(IPage page)
    {
        await page.GetByLabel("Name").FillAsync("first");
        await page.GetByLabel("New password").FillAsync(Password);
        await page.GetByLabel("The same again").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Set the password" }).ClickAsync();
    }

    // One in fifty drives with its tag axle raised and is over; the others are spread over the map.
    private async Task DriveAsync()
    {
        using var device = new MqttClientFactory().CreateMqttClient();
        await device.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", _broker).WithProtocolVersion(MqttProtocolVersion.V500).WithClientId("large").Build());
        var now = DateTimeOffset.UtcNow;
        for (var i = 0; i < Vehicles; i++)
        {
            var over = i % 50 == 0;
            var samples = new StringBuilder("{\"samples\":[");
            for (var s = 0; s < SamplesOfEach; s++)
            {
                var shake = 4 * Math.Sin(s * 1.7) + 3 * Math.Sin(s * 0.61);
                samples.Append(s == 0 ? "" : ",").Append(CultureInfo.InvariantCulture,
                    $"{{\"t\":\"{now.AddSeconds(s - SamplesOfEach):yyyy-MM-dd'T'HH:mm:ss'Z'}\",\"kpa\":{{\"drive\":{(over ? 800 : 480) + shake:0.0},\"tag\":{(over ? 35 : 470 + shake):0.0}}},\"axles\":{{\"tag\":\"{(over ? "raised" : "lowered")}\"}},\"speed_mps\":20,\"lat\":{44 + i % 97 * 0.08:0.000},\"lon\":{6 + i % 89 * 0.09:0.000}}}");
            }

            var message = new MqttApplicationMessageBuilder().WithTopic($"axles/v1/own/{Name(i)}/frame").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).WithPayload(samples.Append("]}").ToString()).Build();
            Assert.True((await device.PublishAsync(message)).IsSuccess);
        }
    }
}

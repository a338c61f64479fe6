using System.Globalization;
using System.Text;
using AxleTelemetry.Web.Tests.Browsing;
using AxleTelemetry.Web.Tests.People;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using MQTTnet;
using MQTTnet.Protocol;

namespace AxleTelemetry.Web.Tests.Now;

/// <summary>A map laid on pictures that the settings name.</summary>
public sealed class MapPictureTests
{
    private const double Latitude = 46.5, Longitude = 14.2;

    // A picture of one transparent point.
    private static readonly byte[] Point = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==");

    [Fact]
    public async Task A_vehicle_stands_on_the_picture_that_shows_its_place()
    {
        if (!Chromium.IsInstalled) Assert.Skip($"No browser at {Chromium.Path}: install the package 'chromium', or name one in CHROMIUM.");
        await using var tiles = await ServeAsync();
        var origin = tiles.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
        await using var service = await FreshService.StartAsync(text => text.Replace("\"http\": {", $"\"http\": {{ \"map_tiles\": {{ \"url\": \"{origin}/{{z}}/{{x}}/{{y}}.png\", \"attribution\": \"drawn by a test\" }},", StringComparison.Ordinal));
        await SendAsync(service.BrokerPort);
        await using var chromium = await Chromium.StartAsync();
        await using var visit = await Visit.BeginAsync(chromium, Screen.Desk);
        var page = visit.Page;
        await page.GotoAsync(service.Link);
        await page.GetByLabel("Name").FillAsync("ada");
        await page.GetByLabel("New password").FillAsync("four plain words here");
        await page.GetByLabel("The same again").FillAsync("four plain words here");
        await page.GetByRole(AriaRole.Button, new() { Name = "Set the password" }).ClickAsync();
        await visit.AliveAsync();
        await page.WaitForFunctionAsync("() => { const all = [...document.querySelectorAll('.map .pictures img')]; return all.length > 0 && all.every(i => i.complete); }");
        await Assertions.Expect(page.GetByText("Map: drawn by a test")).ToBeVisibleAsync();

        // What is painted at the vehicle is the picture that the numbering of tiles has for its place (OpenStreetMap wiki, 'Slippy map tilenames', from memory).
        var shown = await page.EvaluateAsync<string>("""
            ([lon, lat]) => {
              const map = document.querySelector('.map'), box = map.getBoundingClientRect();
              const [x, y] = echarts.getInstanceByDom(map).convertToPixel('geo', [lon, lat]);
              const under = [...map.querySelectorAll('.pictures img')].filter(i => { const b = i.getBoundingClientRect(); return b.left - box.left <= x && x < b.right - box.left && b.top - box.top <= y && y < b.bottom - box.top; });
              return under.map(i => i.src).join(' ');
            }
            """, new[] { Longitude, Latitude });
        var parts = shown[(origin.Length + 1)..].Split('/');
        var zoom = int.Parse(parts[0], CultureInfo.InvariantCulture);
        var x = (int)((Longitude + 180) / 360 * (1 << zoom));
        var y = (int)((1 - Math.Asinh(Math.Tan(Latitude * Math.PI / 180)) / Math.PI) / 2 * (1 << zoom));
        Assert.Equal(FormattableString.Invariant($"{origin}/{zoom}/{x}/{y}.png"), shown);
        await visit.PictureAsync("now-on-pictures");
    }

    private static async Task<WebApplication> ServeAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        app.MapGet("/{z:int}/{x:int}/{y:int}.png", (int z, int x, int y) => Results.Bytes(Point, "image/png"));
        await app.StartAsync(TestContext.Current.CancellationToken);
        return app;
    }

    private static async Task SendAsync(int port)
    {
        using var device = new MqttClientFactory().CreateMqttClient();
        await device.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId("RT-01").WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500).Build(), TestContext.Current.CancellationToken);
        var text = string.Create(CultureInfo.InvariantCulture, $$"""{"samples":[{"t":"{{DateTimeOffset.UtcNow:yyyy-MM-dd'T'HH:mm:ss.fff'Z'}}","lat":{{Latitude}},"lon":{{Longitude}},"speed_mps":20}]}""");
        var message = new MqttApplicationMessageBuilder().WithTopic("axles/v1/demo/RT-01/frame").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).WithPayload(Encoding.UTF8.GetBytes(text)).Build();
        Assert.True((await device.PublishAsync(message, TestContext.Current.CancellationToken)).IsSuccess);
    }
}

using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using MQTTnet;
using MQTTnet.Protocol;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>A truck added to the running demonstration, of which a test decides what it sends: a rigid with a lifting tag axle, laden, on a straight road at 20 m/s.</summary>
internal sealed class OwnTruck(string id, Demonstration demonstration) : IDisposable
{
    private const string Fleet = "ostrel";
    private const int MostSamples = 300;
    private const int LadenRaisedKpa = 800, LadenDriveKpa = 480, LadenTagKpa = 470;
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(30);

    private readonly IMqttClient _device = new MqttClientFactory().CreateMqttClient();

    public string Id => id;

    /// <summary>What the identities of its alerts begin with.</summary>
    public string Alerts => $"{Fleet}/{id}/";

    /// <summary>Describes it, and waits until the service knows it.</summary>
    public async Task ComeAsync()
    {
        var file = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json")))!;
        (file["id"], file["plate"]) = (id, $"{id} X");
        await File.WriteAllTextAsync(Path.Combine(demonstration.Files, Fleet, $"{id}.json"), file.ToJsonString());
        using var client = new HttpClient { BaseAddress = new Uri(demonstration.Address) };
        using var deadline = new CancellationTokenSource(Deadline);
        while ((await client.GetAsync(new Uri($"/api/v1/vehicles/{Fleet}/{id}", UriKind.Relative), deadline.Token)).StatusCode != HttpStatusCode.OK)
            await Task.Yield();
        await _device.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", demonstration.BrokerPort).WithClientId(id).WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500).Build(), deadline.Token);
    }

    /// <summary>Drives a stretch that ended so many seconds ago; done when it is committed.</summary>
    public async Task DriveAsync(int from, int to, bool tagRaised)
    {
        var now = DateTimeOffset.UtcNow;
        foreach (var stretch in Enumerable.Range(0, from - to).Chunk(MostSamples))
        {
            var samples = string.Join(',', stretch.Select(i => Sample(now.AddSeconds(i - from), i, tagRaised)));
            var message = new MqttApplicationMessageBuilder().WithTopic($"axles/v1/{Fleet}/{id}/frame").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithPayload(Encoding.UTF8.GetBytes($$"""{"samples":[{{samples}}]}""")).Build();
            // The broker inside acknowledges what is in the journal.
            Assert.True((await _device.PublishAsync(message)).IsSuccess);
        }
    }

    public void Dispose() => _device.Dispose();

    // A road shakes: a pressure that stood still would be a sensor that does not feel it.
    private static string Sample(DateTimeOffset at, int i, bool tagRaised)
    {
        var shake = 4 * Math.Sin(i * 1.7) + 3 * Math.Sin(i * 0.61);
        var (drive, tag) = tagRaised ? (LadenRaisedKpa + shake, 35) : (LadenDriveKpa + shake, LadenTagKpa + shake);
        return string.Create(CultureInfo.InvariantCulture,
            $$"""{"t":"{{at:yyyy-MM-dd'T'HH:mm:ss.fff'Z'}}","kpa":{"drive":{{drive:0.0}},"tag":{{tag:0.0}}},"axles":{"tag":"{{(tagRaised ? "raised" : "lowered")}}"},"speed_mps":20,"lat":{{46.5 + i * 0.00018:0.00000}},"lon":14.2}""");
    }
}

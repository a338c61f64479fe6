using System.Globalization;
using System.Text;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>The device of a truck of which a test decides what it sends: a rigid with a lifting tag axle, laden, on a straight road to the north or south at 20 m/s.</summary>
internal sealed class Truck(string fleet, string id) : IDisposable
{
    private const int MostSamples = 300;
    private const int LadenRaisedKpa = 800, LadenDriveKpa = 480, LadenTagKpa = 470;
    private const double NorthASecond = 0.00018;

    private readonly IMqttClient _device = new MqttClientFactory().CreateMqttClient();

    /// <summary>Where its road lies: the place that it has when no second is left, and whether it comes there from the south.</summary>
    public (double Latitude, double Longitude, bool Northward) End { get; init; } = (46.6, 14.2, true);

    public Task ConnectAsync(int brokerPort) =>
        _device.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", brokerPort).WithClientId(id).WithProtocolVersion(MqttProtocolVersion.V500).Build());

    /// <summary>Drives a stretch that ended so many seconds ago; done when it is committed.</summary>
    public async Task DriveAsync(int from, int to, bool tagRaised)
    {
        var now = DateTimeOffset.UtcNow;
        foreach (var stretch in Enumerable.Range(0, from - to).Chunk(MostSamples))
        {
            var samples = string.Join(',', stretch.Select(i => Sample(now.AddSeconds(i - from), (i, from - i), tagRaised)));
            var message = new MqttApplicationMessageBuilder().WithTopic($"axles/v1/{fleet}/{id}/frame").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithPayload(Encoding.UTF8.GetBytes($$"""{"samples":[{{samples}}]}""")).Build();
            // The broker inside acknowledges what is in the journal.
            Assert.True((await _device.PublishAsync(message)).IsSuccess);
        }
    }

    public void Dispose() => _device.Dispose();

    // A road shakes: a pressure that stood still would be a sensor that does not feel it.
    private string Sample(DateTimeOffset at, (int Done, int Left) seconds, bool tagRaised)
    {
        var shake = 4 * Math.Sin(seconds.Done * 1.7) + 3 * Math.Sin(seconds.Done * 0.61);
        var (drive, tag) = tagRaised ? (LadenRaisedKpa + shake, 35) : (LadenDriveKpa + shake, LadenTagKpa + shake);
        var latitude = End.Latitude + (End.Northward ? -1 : 1) * seconds.Left * NorthASecond;
        return string.Create(CultureInfo.InvariantCulture,
            $$"""{"t":"{{at:yyyy-MM-dd'T'HH:mm:ss.fff'Z'}}","kpa":{"drive":{{drive:0.0}},"tag":{{tag:0.0}}},"axles":{"tag":"{{(tagRaised ? "raised" : "lowered")}}"},"speed_mps":20,"lat":{{latitude:0.00000}},"lon":{{End.Longitude:0.00000}}}""");
    }
}

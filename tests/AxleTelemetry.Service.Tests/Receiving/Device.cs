using System.Text;
using MQTTnet;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>A device, or whoever else sends, as an ordinary client of the library.</summary>
internal sealed class Device : IAsyncDisposable
{
    private readonly IMqttClient _client = new MqttClientFactory().CreateMqttClient();

    public IMqttClient Client => _client;

    public static Task<Device> At(int port, string id = "sender") => With(port, options => options.WithClientId(id));

    public static async Task<Device> With(int port, Action<MqttClientOptionsBuilder> further)
    {
        var device = new Device();
        var options = new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500).WithTimeout(TimeSpan.FromSeconds(60));
        further(options);
        var answer = await device._client.ConnectAsync(options.Build());
        if (answer.ResultCode != MqttClientConnectResultCode.Success) throw new UnauthorizedAccessException(answer.ResultCode.ToString());
        return device;
    }

    public Task<MqttClientPublishResult> Send(string text, string topic = "axles/v1/example/RT-01/frame", int quality = 1) => Send(Encoding.UTF8.GetBytes(text), topic, quality);

    public Task<MqttClientPublishResult> Send(byte[] payload, string topic = "axles/v1/example/RT-01/frame", int quality = 1) =>
        _client.PublishAsync(new MqttApplicationMessage { Topic = topic, PayloadSegment = payload, QualityOfServiceLevel = (MqttQualityOfServiceLevel)quality }, TestContext.Current.CancellationToken);

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        return ValueTask.CompletedTask;
    }
}

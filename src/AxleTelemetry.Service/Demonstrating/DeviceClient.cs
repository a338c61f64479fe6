using System.Net;
using System.Net.Sockets;
using AxleTelemetry.Service.Watching;
using AxleTelemetry.Simulator.Days;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>One device's connection to the broker; it comes back by itself, and a message is sent until it is acknowledged.</summary>
internal sealed class DeviceClient(string vehicle, IPEndPoint broker, TimeProvider clock) : IDisposable
{
    private static readonly MqttClientFactory Factory = new();

    private readonly IMqttClient _client = Factory.CreateMqttClient();
    private readonly Backoff _backoff = new();

    private readonly MqttClientOptions _options = Factory.CreateClientOptionsBuilder()
        .WithEndPoint(broker).WithProtocolVersion(MqttProtocolVersion.V500).WithClientId(vehicle).Build();

    /// <summary>Sends a message.</summary>
    public async Task SendAsync(SentMessage message, CancellationToken cancel)
    {
        var packet = new MqttApplicationMessageBuilder().WithTopic(message.Topic).WithPayload(message.Payload.ToArray())
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build();
        while (!await TryAsync(packet, cancel)) await Task.Delay(_backoff.Next(), clock, cancel);
        _backoff.Reset();
    }

    public void Dispose() => _client.Dispose();

    private async Task<bool> TryAsync(MqttApplicationMessage packet, CancellationToken cancel)
    {
        try
        {
            if (!_client.IsConnected) await _client.ConnectAsync(_options, cancel);
            return (await _client.PublishAsync(packet, cancel)).IsSuccess;
        }
        catch (Exception failed) when (failed is MqttCommunicationException or MqttClientNotConnectedException or MqttClientDisconnectedException or SocketException or IOException)
        {
            return false;
        }
    }
}

using System.Collections.Concurrent;
using AxleTelemetry.Service.Receiving;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Deployment.Tests.Access;

/// <summary>A connection to a broker by TLS, and what came on it.</summary>
internal sealed class Line : IAsyncDisposable
{
    private readonly IMqttClient _client = new MqttClientFactory().CreateMqttClient();

    private Line() => _client.ApplicationMessageReceivedAsync += arrived =>
    {
        Came.Enqueue(arrived.ApplicationMessage.Topic);
        return Task.CompletedTask;
    };

    /// <summary>Topics of what came, in order.</summary>
    public ConcurrentQueue<string> Came { get; } = new();

    public bool IsOpen => _client.IsConnected;

    /// <summary>Connects; throws where it is not let in.</summary>
    public static async Task<Line> To(int port, TlsOptions tls, string clientId)
    {
        var line = new Line();
        var options = new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithProtocolVersion(MqttProtocolVersion.V500).WithClientId(clientId)
            .WithTlsOptions(tls.Apply).WithTimeout(TimeSpan.FromSeconds(60)).Build();
        var answer = await line._client.ConnectAsync(options, TestContext.Current.CancellationToken);
        Assert.Equal(MqttClientConnectResultCode.Success, answer.ResultCode);
        return line;
    }

    /// <summary>Sends at quality of service 1 and returns what the broker says of it.</summary>
    public Task<MqttClientPublishReasonCode> Send(string topic) => Send(topic, "{}"u8.ToArray());

    /// <summary>The same with a payload.</summary>
    public async Task<MqttClientPublishReasonCode> Send(string topic, byte[] payload)
    {
        var message = new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build();
        return (await _client.PublishAsync(message, TestContext.Current.CancellationToken)).ReasonCode;
    }

    public Task Listen(params string[] filters)
    {
        var wanted = new MqttClientSubscribeOptionsBuilder();
        foreach (var filter in filters) wanted = wanted.WithTopicFilter(filter, MqttQualityOfServiceLevel.AtLeastOnce);
        return _client.SubscribeAsync(wanted.Build(), TestContext.Current.CancellationToken);
    }

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        return ValueTask.CompletedTask;
    }
}

using System.Buffers;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// One connection to a broker, with a number and a client of its own. Acknowledgements belong to it: packet ids start again
/// with the next connection, where a late one would acknowledge a message that nobody committed.
/// </summary>
internal sealed class BrokerConnection : IAcknowledger, IDisposable
{
    private readonly BrokerOptions _options;
    private readonly Intake _intake;
    private readonly TimeProvider _clock;
    private readonly BufferedChannels _channels;
    private readonly IMqttClient _client;
    private readonly TaskCompletionSource<string> _lost = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource _turnedAway = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile bool _over;

    public BrokerConnection(long number, BrokerOptions options, Intake intake, TimeProvider clock)
    {
        (Connection, _options, _intake, _clock) = (number, options, intake, clock);
        _channels = new BufferedChannels(options.MostPacketBytes);
        _client = new MqttClientFactory().CreateMqttClient(_channels);
        _client.ApplicationMessageReceivedAsync += TakeAsync;
        _client.DisconnectedAsync += ended =>
        {
            _over = true;
            _lost.TrySetResult($"The connection to {_options.Address} is lost ({ended.Reason}).");
            return Task.CompletedTask;
        };
    }

    public long Connection { get; }

    /// <summary>Ends when the connection does, with the reason.</summary>
    public Task<string> Lost => _lost.Task;

    /// <summary>Ends when a message was not taken: nothing more of this connection will be, whatever the intake says by then.</summary>
    public Task TurnedAway => _turnedAway.Task;

    public async Task<ConnectAnswer> OpenAsync(CancellationToken cancel)
    {
        using var timeout = new CancellationTokenSource(_options.Timeout, _clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, timeout.Token);
        try
        {
            var answer = await _client.ConnectAsync(SessionOptions.Of(_options), either.Token);
            if (answer.ResultCode != MqttClientConnectResultCode.Success)
                return new ConnectAnswer.Refused($"{_options.Address} refused the connection: {answer.ResultCode} {answer.ReasonString}".TrimEnd() + ".");
            var subscribed = await _client.SubscribeAsync(SessionOptions.Subscriptions(_options), either.Token);
            var refused = subscribed.Items.FirstOrDefault(item => item.ResultCode != MqttClientSubscribeResultCode.GrantedQoS1);
            return refused is null
                ? new ConnectAnswer.Opened(answer.IsSessionPresent)
                : new ConnectAnswer.Refused($"{_options.Address} does not let us receive {refused.TopicFilter.Topic} at quality of service 1: {refused.ResultCode}.");
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new ConnectAnswer.Refused(FormattableString.Invariant($"{_options.Address} did not answer within {_options.Timeout.TotalSeconds:0} s."));
        }
        catch (Exception failed) when (failed is MqttCommunicationException or MqttClientDisconnectedException or MqttProtocolViolationException or SocketException or AuthenticationException
            or IOException or UnauthorizedAccessException or CryptographicException or NullReferenceException or ObjectDisposedException)
        {
            // The client throws the last two when the connection goes while it subscribes.
            return new ConnectAnswer.Refused($"Cannot connect to {_options.Address}. {Innermost(failed)}");
        }
    }

    public bool Acknowledge(ushort packetId) => _channels.Channel?.Acknowledge(packetId) ?? false;

    public void Flush() => _channels.Channel?.Flush();

    /// <summary>Disconnects in good order; the broker keeps the session.</summary>
    public async Task LeaveAsync()
    {
        _over = true;
        using var timeout = new CancellationTokenSource(_options.Timeout, _clock);
        try
        {
            await _client.DisconnectAsync(new MqttClientDisconnectOptions(), timeout.Token);
        }
        catch (Exception gone) when (gone is MqttCommunicationException or MqttClientNotConnectedException or SocketException or IOException or OperationCanceledException or NullReferenceException or ObjectDisposedException)
        {
            // Gone already, in less good order.
        }
    }

    public void Dispose()
    {
        _over = true;
        _channels.Channel?.Dispose();
        _client.Dispose();
    }

    /// <summary>Must neither wait nor throw: the client calls it for one message after the other, and behind it queues without a bound.</summary>
    private Task TakeAsync(MqttApplicationMessageReceivedEventArgs arrived)
    {
        arrived.AutoAcknowledge = false;
        if (_over) return Task.CompletedTask;
        var message = arrived.ApplicationMessage;
        var promised = message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce;
        var taken = _intake.TryTake(new Received
        {
            Topic = message.Topic,
            Payload = Bytes(message.Payload),
            ContentType = message.ContentType,
            Redelivered = message.Dup,
            Acknowledger = promised ? this : null,
            PacketId = arrived.PacketIdentifier,
        });
        if (taken) return Task.CompletedTask;
        // Acknowledgements are in the order received, so nothing behind a message that was not taken may be.
        _over = true;
        _turnedAway.TrySetResult();
        return Task.CompletedTask;
    }

    /// <summary>The client makes an array for each message and keeps none.</summary>
    private static ReadOnlyMemory<byte> Bytes(in ReadOnlySequence<byte> payload) => payload.IsSingleSegment ? payload.First : payload.ToArray();

    private static string Innermost(Exception failed)
    {
        while (failed.InnerException is { } inner) failed = inner;
        return failed.Message.EndsWith('.') ? failed.Message : failed.Message + ".";
    }
}

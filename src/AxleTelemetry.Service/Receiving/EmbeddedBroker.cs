using System.Buffers;
using System.Collections;
using System.Collections.Concurrent;
using System.Net;
using AxleTelemetry.Service.Delivering;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// The broker inside, for where there is no other. It answers a device's message after the commit, so that the
/// acknowledgement means 'in the journal'; one message at a time for each device is under way.
/// </summary>
internal sealed class EmbeddedBroker : IAsyncDisposable, IPublisher
{
    // Marks what we send ourselves: the server asks about it as about any other message.
    private static readonly object Own = new();

    private static readonly TimeSpan ConnectTime = TimeSpan.FromSeconds(10);

    private readonly Intake _intake;
    private readonly ReceiveTrace _trace;
    private readonly AccessList? _access;
    private readonly DeviceListener _listener;
    private readonly MqttServer _server;
    private readonly CancellationTokenSource _stop = new();
    private Task _turningAway = Task.CompletedTask;

    // The server gives everything that belongs to one connection the same token, and names the connection nowhere else.
    private readonly ConcurrentDictionary<CancellationToken, DeviceConnection> _connections = new();

    /// <exception cref="ArgumentException">The options are forbidden: see <see cref="EmbeddedBrokerOptions.Problems"/>.</exception>
    public EmbeddedBroker(EmbeddedBrokerOptions options, Intake intake, ReceiveTrace trace)
    {
        if (options.Problems() is { IsEmpty: false } problems) throw new ArgumentException(string.Join(' ', problems), nameof(options));
        (_intake, _trace, _access) = (intake, trace, options.Access);
        _listener = new DeviceListener(options);
        var server = new MqttServerOptionsBuilder().WithDefaultCommunicationTimeout(ConnectTime).Build();
        _server = new MqttServerFactory().CreateMqttServer(server, [_listener], MqttNetNullLogger.Instance);
        _server.ValidatingConnectionAsync += ConnectingAsync;
        _server.InterceptingSubscriptionAsync += SubscribingAsync;
        _server.InterceptingInboundPacketAsync += CameAsync;
        _server.InterceptingPublishAsync += PublishingAsync;
        _server.InterceptingOutboundPacketAsync += GoesAsync;
    }

    /// <summary>Where it listens, once it does.</summary>
    public IPEndPoint? EndPoint => _listener.EndPoint;

    /// <summary>Connections that anything came from.</summary>
    public int Devices => _connections.Count;

    /// <summary>Told of each subscription that is granted, by its filter, a moment before it holds.</summary>
    public Action<string>? Subscribed { get; set; }

    /// <summary>Sends to whoever has subscribed. Nothing is retained: a device of MQTT 3.1.1 would be given it however old it is.</summary>
    public async Task<Handing> PublishAsync(Publication publication, CancellationToken cancel)
    {
        if (!_server.IsStarted) return new Handing.Away("The broker inside does not run.", null);
        await _server.InjectApplicationMessage(new InjectedMqttApplicationMessage(publication.Message(retain: false)) { SenderClientId = "axletelemetry", CustomSessionItems = new Hashtable { [Own] = true } }, cancel);
        return new Handing.Taken();
    }

    /// <exception cref="System.Net.Sockets.SocketException">The address is taken or not ours.</exception>
    public async Task StartAsync()
    {
        await _server.StartAsync();
        _turningAway = TurnAwayAsync(_stop.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _turningAway;
        if (_server.IsStarted) await _server.StopAsync(new MqttServerStopOptions());
        _server.Dispose();
        _listener.Dispose();
        _stop.Dispose();
    }

    private Task ConnectingAsync(ValidatingConnectionEventArgs device)
    {
        if (_access?.MayConnect(device.UserName, device.RawPassword, device.ClientId) is false)
        {
            _trace.OnDenied();
            device.ReasonCode = MqttConnectReasonCode.BadUserNameOrPassword;
        }
        else if (_intake.State is not IntakeState.Taking)
        {
            device.ReasonCode = MqttConnectReasonCode.ServerUnavailable;
        }

        return Task.CompletedTask;
    }

    private Task SubscribingAsync(InterceptingSubscriptionEventArgs asked)
    {
        if (_access?.MayRead(asked.UserName, asked.TopicFilter.Topic) is not false)
        {
            Subscribed?.Invoke(asked.TopicFilter.Topic);
            return Task.CompletedTask;
        }

        _trace.OnDenied();
        asked.ProcessSubscription = false;
        asked.Response.ReasonCode = MqttSubscribeReasonCode.NotAuthorized;
        return Task.CompletedTask;
    }

    private Task CameAsync(InterceptingPacketEventArgs came)
    {
        if (came.Packet is MqttPublishPacket publish) Of(came.CancellationToken).Came(publish.PacketIdentifier);
        return Task.CompletedTask;
    }

    private Task GoesAsync(InterceptingPacketEventArgs goes)
    {
        goes.ProcessPacket = goes.Packet switch
        {
            MqttPubAckPacket ack => Of(goes.CancellationToken).MayAcknowledge(ack.PacketIdentifier),
            MqttPubRecPacket received => Of(goes.CancellationToken).MayAcknowledge(received.PacketIdentifier),
            _ => true,
        };
        return Task.CompletedTask;
    }

    private async Task PublishingAsync(InterceptingPublishEventArgs sent)
    {
        if (sent.SessionItems?.Contains(Own) is true) return;
        var topic = sent.ApplicationMessage.Topic;
        // A device of MQTT 3.1.1 cannot be told that its message is refused, and would take the answer for a promise.
        if (_access?.MaySend(sent.UserName, topic) is false)
        {
            _trace.OnDenied();
            sent.ProcessPublish = false;
            sent.CloseConnection = true;
            return;
        }

        // A last will comes when its connection is over: there is nobody to answer.
        var connection = sent.CancellationToken.CanBeCanceled ? Of(sent.CancellationToken) : null;
        var packetId = connection?.Current ?? 0;
        if (UpTopic.Matches(topic)) await TakeAsync(sent, connection, packetId);
        if (!sent.CloseConnection) connection?.Done(packetId);
    }

    private async Task TakeAsync(InterceptingPublishEventArgs sent, DeviceConnection? connection, ushort packetId)
    {
        sent.ProcessPublish = false;
        var message = sent.ApplicationMessage;
        var waits = connection is not null && message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce ? new HandOver(connection.Number) : null;
        var taken = _intake.TryTake(new Received
        {
            Topic = message.Topic,
            Payload = message.Payload.IsSingleSegment ? message.Payload.First : message.Payload.ToArray(),
            ContentType = message.ContentType,
            Redelivered = message.Dup,
            Acknowledger = waits,
            PacketId = packetId,
        });
        var answered = taken && (waits is null || await waits.CommittedAsync(sent.CancellationToken));
        sent.CloseConnection = !answered;
    }

    /// <summary>While the intake takes nothing, devices are disconnected: they keep their messages and come back.</summary>
    private async Task TurnAwayAsync(CancellationToken stop)
    {
        try
        {
            while (true)
            {
                await _intake.UntilAsync(taking: false, stop);
                var leave = new MqttServerClientDisconnectOptions { ReasonCode = MqttDisconnectReasonCode.ServerBusy };
                foreach (var device in await _server.GetClientsAsync()) await device.DisconnectAsync(leave);
                await _intake.UntilAsync(taking: true, stop);
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // The broker stops.
        }
    }

    private DeviceConnection Of(CancellationToken connection)
    {
        if (_connections.TryGetValue(connection, out var known)) return known;
        var made = _connections.GetOrAdd(connection, static (_, trace) => new DeviceConnection(trace.NextConnection()), _trace);
        // Runs at once when the connection is over already, so none stays behind.
        connection.Register(() => _connections.TryRemove(connection, out _));
        return made;
    }
}

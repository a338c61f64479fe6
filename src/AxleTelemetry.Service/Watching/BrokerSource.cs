using System.Net.Sockets;
using System.Security.Authentication;
using AxleTelemetry.Messages.Topics;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Watching;

/// <summary>
/// Brings a broker's messages into a watch, and connects again for as long as it runs. The broker keeps the session for a
/// few minutes, so that a short break loses nothing; a new watch begins with a new session.
/// </summary>
internal sealed class BrokerSource(MessageOrigin.Broker broker, TimeProvider clock)
{
    private const uint SessionSeconds = 300;
    private const ushort MostInFlight = 2000;
    private const uint MostPacketBytes = 128 * 1024;
    private static readonly TimeSpan Advance = TimeSpan.FromMilliseconds(250);

    private readonly MqttClientFactory _factory = new();
    private readonly string _clientId = $"axletelemetry-watch-{Guid.NewGuid():N}";
    private readonly Backoff _backoff = new();
    private bool _wasConnected;

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(FleetWatch watch, CancellationToken cancel)
    {
        var advancing = AdvanceAsync(watch, cancel);
        while (!cancel.IsCancellationRequested)
        {
            var trouble = await ConnectedAsync(watch, cancel);
            if (cancel.IsCancellationRequested) break;
            var wait = _backoff.Next();
            watch.Note(FormattableString.Invariant($"{trouble} Trying again in {wait.TotalSeconds:0} s."));
            await Wait(wait, cancel);
        }

        await advancing;
    }

    /// <summary>One connection, from its beginning to its end; says what ended it.</summary>
    private async Task<string> ConnectedAsync(FleetWatch watch, CancellationToken cancel)
    {
        using var client = _factory.CreateMqttClient();
        var lost = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        client.ApplicationMessageReceivedAsync += received =>
        {
            var message = received.ApplicationMessage;
            watch.Take(message.Topic, message.Payload, watch.Now);
            return Task.CompletedTask;
        };
        client.DisconnectedAsync += ended =>
        {
            lost.TrySetResult(ended.Reason == MqttClientDisconnectReason.NormalDisconnection
                ? $"The connection to {broker} is lost." : $"The connection to {broker} is lost ({ended.Reason}).");
            return Task.CompletedTask;
        };
        try
        {
            var answer = await client.ConnectAsync(Options(), cancel);
            if (answer.ResultCode != MqttClientConnectResultCode.Success) return Refused(answer);
            await SubscribeAsync(client, cancel);
            watch.Note(_wasConnected && !answer.IsSessionPresent
                ? $"Connected to {broker} again, but the broker has forgotten the session: messages sent meanwhile are missing."
                : $"Connected to {broker}, listening under {Topic.Root}.");
            _wasConnected = true;
            _backoff.Reset();
            using var stop = cancel.Register(() => lost.TrySetResult("Stopped."));
            var trouble = await lost.Task;
            if (cancel.IsCancellationRequested) await LeaveAsync(client);
            return trouble;
        }
        catch (Exception failed) when (failed is MqttCommunicationException or MqttClientDisconnectedException or SocketException or AuthenticationException or IOException or OperationCanceledException or MqttProtocolViolationException)
        {
            return $"Cannot connect to {broker}{(broker.Tls ? " with TLS" : "")}. {Innermost(failed)}";
        }
    }

    private string Refused(MqttClientConnectResult answer) => answer.ResultCode switch
    {
        MqttClientConnectResultCode.NotAuthorized or MqttClientConnectResultCode.BadUserNameOrPassword =>
            $"{broker} refused the connection: {(broker.User is null ? "it wants a user name and password (--username, --password-file)" : $"the user name '{broker.User}' or its password is not right")}.",
        _ => $"{broker} refused the connection: {answer.ResultCode} {answer.ReasonString}".TrimEnd() + ".",
    };

    private MqttClientOptions Options()
    {
        var options = _factory.CreateClientOptionsBuilder()
            .WithTcpServer(broker.Host, broker.Port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(_clientId)
            .WithCleanStart(!_wasConnected)
            .WithSessionExpiryInterval(SessionSeconds)
            .WithReceiveMaximum(MostInFlight)
            .WithMaximumPacketSize(MostPacketBytes);
        if (broker.User is { } user) options = options.WithCredentials(user, broker.Password is { } password ? [.. password] : []);
        if (broker.Tls) options = options.WithTlsOptions(tls => tls.UseTls());
        return options.Build();
    }

    private async Task SubscribeAsync(IMqttClient client, CancellationToken cancel)
    {
        // One for each stream that vehicles send: a wildcard there would return what is sent to them as well.
        var streams = _factory.CreateSubscribeOptionsBuilder();
        foreach (var stream in UpStreamNames.All)
            streams = streams.WithTopicFilter(filter => filter.WithTopic($"{Topic.Root}+/+/{stream}").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithRetainHandling(MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly));
        await client.SubscribeAsync(streams.Build(), cancel);
    }

    private async Task LeaveAsync(IMqttClient client)
    {
        try
        {
            var leave = _factory.CreateClientDisconnectOptionsBuilder().WithSessionExpiryInterval(0).Build();
            await client.DisconnectAsync(leave, CancellationToken.None);
        }
        catch (Exception gone) when (gone is MqttCommunicationException or MqttClientNotConnectedException or SocketException or IOException)
        {
            // Gone already: the session ends by itself.
        }
    }

    private async Task AdvanceAsync(FleetWatch watch, CancellationToken cancel)
    {
        while (await Wait(Advance, cancel)) watch.Advance();
    }

    private async Task<bool> Wait(TimeSpan time, CancellationToken cancel)
    {
        await Task.Delay(time, clock, cancel).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        return !cancel.IsCancellationRequested;
    }

    private static string Innermost(Exception failed)
    {
        while (failed.InnerException is { } inner) failed = inner;
        return failed.Message.EndsWith('.') ? failed.Message : failed.Message + ".";
    }
}

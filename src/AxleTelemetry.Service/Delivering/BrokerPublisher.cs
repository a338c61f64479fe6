using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using AxleTelemetry.Service.Receiving;
using MQTTnet;
using MQTTnet.Exceptions;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Publishes at a broker elsewhere, over a connection of its own: what goes out, and a broker that takes it slowly, must not hold up what comes in.
/// Its client id is that of the receiver with <c>-out</c> behind it. For one message at a time from any thread.
/// </summary>
internal sealed class BrokerPublisher(BrokerOptions options, TimeProvider clock) : IPublisher, IDisposable
{
    private readonly BrokerOptions _options = options with { ClientId = options.ClientId + "-out", SessionExpiry = TimeSpan.Zero };
    private readonly SemaphoreSlim _one = new(1);
    private IMqttClient? _client;

    public async Task<Handing> PublishAsync(Publication publication, CancellationToken cancel)
    {
        await _one.WaitAsync(cancel);
        using var timeout = new CancellationTokenSource(_options.Timeout, clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, timeout.Token);
        try
        {
            if (_client is not { IsConnected: true } && await ConnectAsync(either.Token) is { } refused) return refused;
            return Of(await _client!.PublishAsync(publication.Message(retain: true), either.Token));
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            Leave();
            return new Handing.Away(FormattableString.Invariant($"{_options.Address} did not answer within {_options.Timeout.TotalSeconds:0} s."), null);
        }
        catch (Exception failed) when (failed is MqttCommunicationException or MqttClientDisconnectedException or MqttProtocolViolationException or SocketException or AuthenticationException
            or IOException or UnauthorizedAccessException or CryptographicException or NullReferenceException or ObjectDisposedException or InvalidOperationException)
        {
            Leave();
            return new Handing.Away($"{_options.Address}: {failed.GetBaseException().Message}", null);
        }
        finally
        {
            _one.Release();
        }
    }

    public void Dispose()
    {
        Leave();
        _one.Dispose();
    }

    private async Task<Handing?> ConnectAsync(CancellationToken cancel)
    {
        Leave();
        _client = new MqttClientFactory().CreateMqttClient();
        var session = Receiving.SessionOptions.Of(_options);
        var answer = await _client.ConnectAsync(session, cancel);
        return answer.ResultCode == MqttClientConnectResultCode.Success ? null : new Handing.Away($"{_options.Address} refused the connection: {answer.ResultCode} {answer.ReasonString}".TrimEnd() + ".", null);
    }

    private Handing Of(MqttClientPublishResult answer) => answer.ReasonCode switch
    {
        // Nobody listens at present: that is theirs to know.
        MqttClientPublishReasonCode.Success or MqttClientPublishReasonCode.NoMatchingSubscribers => new Handing.Taken(),
        MqttClientPublishReasonCode.TopicNameInvalid or MqttClientPublishReasonCode.PayloadFormatInvalid => new Handing.Refused($"{_options.Address} refuses the message: {answer.ReasonCode}."),
        // An access list is for a person to put right: until then it is as if the broker were not there.
        _ => new Handing.Away($"{_options.Address} does not take the message: {answer.ReasonCode} {answer.ReasonString}".TrimEnd() + ".", null),
    };

    private void Leave()
    {
        _client?.Dispose();
        _client = null;
    }
}

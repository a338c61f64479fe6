using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Receiving;
using MQTTnet.Exceptions;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Sends a recording to a broker, one message after the other; one that is not acknowledged goes again on a further connection.</summary>
internal sealed class ResendingSender(int port, IReadOnlyList<RecordedMessage> messages) : IAsyncDisposable
{
    private static readonly TimeSpan BeforeTheNextTry = TimeSpan.FromMilliseconds(20);

    private Device? _device;
    private int _acknowledged;

    /// <summary>Sends up to so many of them, and waits until they are acknowledged.</summary>
    public async Task Send(int upTo)
    {
        while (_acknowledged < upTo)
        {
            try
            {
                _device ??= await Device.At(port);
                Assert.True((await _device.Send(messages[_acknowledged].Payload.ToArray(), messages[_acknowledged].Topic)).IsSuccess);
                _acknowledged++;
            }
            catch (Exception gone) when (gone is MqttCommunicationException or MqttClientNotConnectedException or MqttClientDisconnectedException)
            {
                await DisposeAsync();
                await Task.Delay(BeforeTheNextTry, TestContext.Current.CancellationToken);
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (_device is not null) await _device.DisposeAsync();
        _device = null;
    }
}

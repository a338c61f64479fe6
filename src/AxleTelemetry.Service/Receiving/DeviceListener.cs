using System.Collections.Concurrent;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Implementations;
using MQTTnet.Server;

namespace AxleTelemetry.Service.Receiving;

/// <summary>Accepts devices for the embedded broker. The server's own listener has no limit to the size of a packet.</summary>
internal sealed class DeviceListener(EmbeddedBrokerOptions options) : IMqttServerAdapter
{
    private static readonly TimeSpan HandshakeTime = TimeSpan.FromSeconds(10);

    private readonly ConcurrentDictionary<Socket, Task> _open = new();
    private readonly CancellationTokenSource _stop = new();
    private Socket? _socket;
    private Task _accepting = Task.CompletedTask;

    public Func<IMqttChannelAdapter, Task>? ClientHandler { get; set; }

    /// <summary>Where it listens, once it does.</summary>
    public IPEndPoint? EndPoint => _socket?.LocalEndPoint as IPEndPoint;

    /// <exception cref="SocketException">The address is taken or not ours.</exception>
    public Task StartAsync(MqttServerOptions serverOptions, IMqttNetLogger logger)
    {
        _socket = new Socket(options.EndPoint.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        _socket.Bind(options.EndPoint);
        _socket.Listen();
        _accepting = AcceptAsync(_socket, serverOptions, logger);
        return Task.CompletedTask;
    }

    public async Task StopAsync()
    {
        await _stop.CancelAsync();
        _socket?.Dispose();
        await _accepting;
        foreach (var device in _open.Keys) device.Dispose();
        await Task.WhenAll(_open.Values);
    }

    public void Dispose()
    {
        _socket?.Dispose();
        _stop.Dispose();
    }

    private async Task AcceptAsync(Socket listening, MqttServerOptions serverOptions, IMqttNetLogger logger)
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                var device = await listening.AcceptAsync(_stop.Token);
                if (_open.Count >= options.MostConnections) device.Dispose();
                else _open[device] = Task.Run(() => ServeAsync(device, serverOptions, logger));
            }
            catch (Exception over) when (over is OperationCanceledException or ObjectDisposedException)
            {
                return;
            }
            catch (SocketException)
            {
                // The device went away while it was accepted, or there is no descriptor left for it: the next one may fare better.
                await Task.Delay(TimeSpan.FromMilliseconds(100), _stop.Token).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    private async Task ServeAsync(Socket device, MqttServerOptions serverOptions, IMqttNetLogger logger)
    {
        try
        {
            device.NoDelay = true;
            await using var stream = await StreamAsync(device);
            using var channel = new BufferedChannel(new MqttTcpChannel(stream, device.LocalEndPoint, device.RemoteEndPoint, null), options.MostPacketBytes);
            var formatter = new MqttPacketFormatterAdapter(new MqttBufferWriter(serverOptions.WriterBufferSize, serverOptions.WriterBufferSizeMax));
            using var adapter = new MqttChannelAdapter(channel, formatter, logger);
            if (ClientHandler is { } handle) await handle(adapter);
        }
        catch (Exception gone) when (gone is IOException or SocketException or AuthenticationException or OperationCanceledException or ObjectDisposedException or MqttCommunicationException or MqttProtocolViolationException)
        {
            // A device that breaks off or speaks another language ends its own connection only.
        }
        finally
        {
            device.Dispose();
            _open.TryRemove(device, out _);
        }
    }

    private async Task<Stream> StreamAsync(Socket device)
    {
        var plain = new NetworkStream(device, ownsSocket: true);
        if (options.Certificate is null) return plain;
        using var timeout = CancellationTokenSource.CreateLinkedTokenSource(_stop.Token);
        timeout.CancelAfter(HandshakeTime);
        var encrypted = new SslStream(plain, leaveInnerStreamOpen: false);
        try
        {
            await encrypted.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificate = options.Certificate }, timeout.Token);
            return encrypted;
        }
        catch
        {
            await encrypted.DisposeAsync();
            throw;
        }
    }
}

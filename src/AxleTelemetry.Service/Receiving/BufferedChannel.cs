using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Channel;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// A connection that reads 64 KiB at a time and gathers acknowledgements into one write, around one that makes a system
/// call for each piece of a packet. Acknowledgements are written here and not through the client's own call: a channel
/// lives as long as its connection, so one that comes late has nowhere to go.
/// </summary>
internal sealed class BufferedChannel(IMqttChannel inner, int mostPacketBytes) : IMqttChannel
{
    private const int BufferBytes = 64 * 1024;

    private readonly byte[] _buffer = new byte[BufferBytes];
    private readonly GatheredWrites _writes = new(inner);
    private PacketGuard _guard = new(mostPacketBytes);
    private int _at, _filled;
    private Task<int> _count = Task.FromResult(0);

    public X509Certificate2 ClientCertificate => inner.ClientCertificate;

    public EndPoint RemoteEndPoint => inner.RemoteEndPoint;

    public EndPoint LocalEndPoint => inner.LocalEndPoint;

    public bool IsSecureConnection => inner.IsSecureConnection;

    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken)
    {
        _writes.Close();
        return inner.DisconnectAsync(cancellationToken);
    }

    public Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        _at < _filled ? Counted(Copy(buffer.AsSpan(offset, count))) : FillAsync(buffer, offset, count, cancellationToken);

    public Task WriteAsync(ReadOnlySequence<byte> buffer, bool isEndOfPacket, CancellationToken cancellationToken) =>
        _writes.WriteAsync(buffer, isEndOfPacket, cancellationToken);

    /// <summary>Puts an acknowledgement (PUBACK, success) into the next write; <c>false</c> when the connection is over.</summary>
    public bool Acknowledge(ushort packetId) => _writes.Acknowledge(packetId);

    /// <summary>Writes the acknowledgements put there; does not wait.</summary>
    public void Flush() => _writes.Flush();

    public void Dispose()
    {
        _writes.Close();
        inner.Dispose();
    }

    private async Task<int> FillAsync(byte[] buffer, int offset, int count, CancellationToken cancel)
    {
        _at = 0;
        _filled = 0;
        _filled = await inner.ReadAsync(_buffer, 0, BufferBytes, cancel).ConfigureAwait(false);
        return _filled == 0 ? 0 : Copy(buffer.AsSpan(offset, count));
    }

    private int Copy(Span<byte> target)
    {
        var count = Math.Min(target.Length, _filled - _at);
        var source = _buffer.AsSpan(_at, count);
        _guard.Pass(source);
        source.CopyTo(target);
        _at += count;
        return count;
    }

    /// <summary>Messages of one kind are about as long as the last one: its task serves again.</summary>
    private Task<int> Counted(int count) => _count.Result == count ? _count : _count = Task.FromResult(count);
}

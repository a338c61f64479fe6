using System.Buffers;
using System.Buffers.Binary;
using System.Net.Sockets;
using MQTTnet.Channel;
using MQTTnet.Exceptions;

namespace AxleTelemetry.Service.Receiving;

/// <summary>What goes out on one connection: while one write is under way, the next gathers. Packets stay whole.</summary>
internal sealed class GatheredWrites(IMqttChannel channel)
{
    private const uint PubAck = 0x4002_0000;

    private readonly Lock _gate = new();
    private readonly ArrayBufferWriter<byte> _partial = new();
    private ArrayBufferWriter<byte> _gathering = new(4096), _writing = new(4096);
    private volatile bool _closed;
    private bool _busy;
    private TaskCompletionSource _written = new();

    public Task WriteAsync(ReadOnlySequence<byte> bytes, bool isEndOfPacket, CancellationToken cancel)
    {
        lock (_gate)
        {
            if (_closed) throw Closed();
            // A packet comes in two parts, head and payload: an acknowledgement must not get between them.
            foreach (var part in bytes) _partial.Write(part.Span);
            if (!isEndOfPacket) return Task.CompletedTask;
            _gathering.Write(_partial.WrittenSpan);
            _partial.ResetWrittenCount();
        }

        return FlushAsync().WaitAsync(cancel);
    }

    public bool Acknowledge(ushort packetId)
    {
        lock (_gate)
        {
            if (_closed) return false;
            BinaryPrimitives.WriteUInt32BigEndian(_gathering.GetSpan(sizeof(uint)), PubAck | packetId);
            _gathering.Advance(sizeof(uint));
            return true;
        }
    }

    public void Flush() => _ = FlushAsync();

    /// <summary>What was not written is dropped, and so is all that comes.</summary>
    public void Close()
    {
        lock (_gate) _closed = true;
    }

    private Task FlushAsync()
    {
        TaskCompletionSource written;
        lock (_gate)
        {
            if (_busy) return _written.Task;
            if (_gathering.WrittenCount == 0) return Task.CompletedTask;
            _busy = true;
            written = _written = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        }

        _ = WriteAllAsync(written);
        return written.Task;
    }

    private async Task WriteAllAsync(TaskCompletionSource written)
    {
        try
        {
            while (Swap())
            {
                await channel.WriteAsync(new ReadOnlySequence<byte>(_writing.WrittenMemory), true, CancellationToken.None).ConfigureAwait(false);
                _writing.ResetWrittenCount();
            }

            if (_closed) throw Closed();
            written.SetResult();
        }
        catch (Exception failed) when (failed is IOException or SocketException or MqttCommunicationException or ObjectDisposedException or InvalidOperationException)
        {
            Close();
            // Ends the read as well, which is where the client learns of it.
            channel.Dispose();
            written.SetException(failed as MqttCommunicationException ?? new MqttCommunicationException("Writing failed.", failed));
            _ = written.Task.Exception;
        }
    }

    /// <summary>Takes what has gathered; <c>false</c> when nothing has, or nothing may be written any more.</summary>
    private bool Swap()
    {
        lock (_gate)
        {
            _busy = !_closed && _gathering.WrittenCount > 0;
            if (_busy) (_gathering, _writing) = (_writing, _gathering);
            return _busy;
        }
    }

    private static MqttCommunicationException Closed() => new("The connection is closed.");
}

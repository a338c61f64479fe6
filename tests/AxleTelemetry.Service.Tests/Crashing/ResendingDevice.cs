using System.Net.Sockets;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Tests.Receiving;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>
/// A vehicle's device: sends its messages in order, several under way at once, forgets one when it is acknowledged, and sends the
/// others again on its next connection.
/// </summary>
internal sealed class ResendingDevice(string name, int port, IReadOnlyList<RecordedMessage> messages)
{
    private const int Window = 10, Refused = 0x80;
    private static readonly TimeSpan BeforeTheNextTry = TimeSpan.FromMilliseconds(20);

    private readonly SemaphoreSlim _more = new(0);
    private int _allowed, _ever, _acknowledged, _turnedAway;

    /// <summary>Messages acknowledged.</summary>
    public int Acknowledged => Volatile.Read(ref _acknowledged);

    /// <summary>Times it was sent away, or not let in, by a service that was there.</summary>
    public int TurnedAway => Volatile.Read(ref _turnedAway);

    /// <summary>True where everything that it may send is acknowledged.</summary>
    public bool IsDone => Acknowledged == Volatile.Read(ref _allowed);

    /// <summary>A device for each vehicle of a recording.</summary>
    public static List<ResendingDevice> Of(IReadOnlyList<RecordedMessage> messages, int port) =>
        [.. messages.GroupBy(m => m.Topic.Split('/')[3]).Select(g => new ResendingDevice(g.Key, port, [.. g]))];

    /// <summary>It may send what it recorded up to a place in the recording of all.</summary>
    public void Allow(IReadOnlySet<RecordedMessage> recorded)
    {
        Volatile.Write(ref _allowed, messages.TakeWhile(recorded.Contains).Count());
        _more.Release();
    }

    /// <summary>Sends until all is acknowledged.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        while (Acknowledged < messages.Count)
        {
            if (IsDone) await _more.WaitAsync(stop);
            else if (await ConnectAsync() is not { } wire) await Task.Delay(BeforeTheNextTry, stop);
            else
                using (wire) await TalkAsync(wire, stop);
        }
    }

    private async Task<Wire?> ConnectAsync()
    {
        Wire? wire = null;
        try
        {
            wire = await Wire.To(port);
            await wire.Send(Wire.ConnectPacket(name));
            if (await wire.Next() is { Type: Wire.ConnAck, Body: var answer } && answer[1] == 0) return wire;
            Interlocked.Increment(ref _turnedAway);
        }
        catch (Exception gone) when (gone is SocketException or IOException)
        {
            // Nobody is there now.
        }

        wire?.Dispose();
        return null;
    }

    private async Task TalkAsync(Wire wire, CancellationToken stop)
    {
        try
        {
            for (var sent = Acknowledged; Acknowledged < messages.Count;)
            {
                for (; sent < Math.Min(_allowed, Acknowledged + Window); sent++) await SendAsync(wire, sent);
                if (sent == Acknowledged) await _more.WaitAsync(stop);
                else if (!Take(await wire.Next())) return;
            }
        }
        catch (Exception gone) when (gone is SocketException or IOException)
        {
            // Comes back, and sends again what was not acknowledged.
        }
    }

    private async Task SendAsync(Wire wire, int index)
    {
        await wire.Send(Wire.PublishPacket(messages[index].Topic, IdOf(index), messages[index].Payload.ToArray(), redelivered: index < _ever));
        _ever = Math.Max(_ever, index + 1);
    }

    /// <summary>Takes an answer; false where the connection is over.</summary>
    private bool Take((int Type, byte[] Body)? packet)
    {
        if (packet is { Type: Wire.Disconnect }) Interlocked.Increment(ref _turnedAway);
        if (packet is not { Type: Wire.PubAck, Body: var body } || body is [_, _, >= Refused, ..]) return false;
        Assert.Equal(IdOf(Acknowledged), Wire.Id(body));
        Interlocked.Increment(ref _acknowledged);
        return true;
    }

    private static ushort IdOf(int index) => (ushort)(1 + index % ushort.MaxValue);
}

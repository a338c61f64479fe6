using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>A broker that does what it is told, and notes every acknowledgement with the connection it came on. Packet ids start at 1 with each connection.</summary>
internal sealed class FakeBroker : IDisposable
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);

    public FakeBroker() => _listener.Start();

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>Waits for the next connection and answers until it is subscribed.</summary>
    public async Task<Visit> Accept(Signal changed, Func<string, bool> isCommitted)
    {
        using var deadline = new CancellationTokenSource(Deadline);
        var client = await _listener.AcceptTcpClientAsync(deadline.Token);
        var wire = new Wire(client.GetStream());
        Assert.Equal(Wire.Connect, (await wire.Next())!.Value.Type);
        await wire.Send([0x20, 3, 1, 0, 0]);
        var subscribe = (await wire.Next())!.Value;
        Assert.Equal(Wire.Subscribe, subscribe.Type);
        await wire.Send(Wire.Packet(0x90, [.. Wire.U16(Wire.Id(subscribe.Body)), 0, .. Enumerable.Repeat((byte)1, 7)]));
        return new Visit(client, wire, changed, isCommitted);
    }

    public void Dispose() => _listener.Dispose();

    /// <summary>One connection of the receiver.</summary>
    internal sealed class Visit
    {
        private readonly TcpClient _client;
        private readonly Wire _wire;
        private readonly List<string> _delivered = [];
        private readonly Task _reading;

        public Visit(TcpClient client, Wire wire, Signal changed, Func<string, bool> isCommitted)
        {
            (_client, _wire) = (client, wire);
            _reading = Read(changed, isCommitted);
        }

        /// <summary>Packet ids acknowledged here, in order.</summary>
        public List<ushort> Acknowledged { get; } = [];

        /// <summary>What should not have come.</summary>
        public List<string> Wrong { get; } = [];

        public int Acknowledgements
        {
            get
            {
                lock (_delivered) return Acknowledged.Count;
            }
        }

        public int Deliveries
        {
            get
            {
                lock (_delivered) return _delivered.Count;
            }
        }

        public async Task Deliver(string text)
        {
            ushort id;
            lock (_delivered)
            {
                _delivered.Add(text);
                id = (ushort)_delivered.Count;
            }

            await _wire.Send(Wire.PublishPacket("axles/v1/example/RT-01/frame", id, text));
        }

        /// <summary>Ends the connection: at once, or after what was sent is through.</summary>
        public async Task Break(bool rudely)
        {
            if (rudely) _client.Client.LingerState = new LingerOption(true, 0);
            _client.Dispose();
            await _reading;
        }

        private async Task Read(Signal changed, Func<string, bool> isCommitted)
        {
            while (await _wire.Next() is { } packet)
            {
                if (packet.Type != Wire.PubAck) continue;
                lock (_delivered) Check(Wire.Id(packet.Body), isCommitted);
                changed.Changed();
            }
        }

        private void Check(ushort id, Func<string, bool> isCommitted)
        {
            if (id == 0 || id > _delivered.Count) Wrong.Add($"{id} was never delivered here");
            else if (!isCommitted(_delivered[id - 1])) Wrong.Add($"{id} ({_delivered[id - 1]}) is not committed");
            if (Acknowledged.Count > 0 && id != Acknowledged[^1] + 1) Wrong.Add($"{id} after {Acknowledged[^1]}");
            Acknowledged.Add(id);
        }
    }
}

using System.Diagnostics;
using System.Globalization;
using System.Net.Sockets;
using System.Text;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>What a fleet sends.</summary>
/// <param name="Port">The broker's.</param>
/// <param name="Vehicles">How many take turns.</param>
/// <param name="Samples">Samples a message, a second apart.</param>
/// <param name="Rate">Messages a second; 0 for as many as the broker takes.</param>
/// <param name="Start">Moment of the first sample, Unix milliseconds.</param>
/// <param name="Laden">True for loads far over what the tag axle may carry.</param>
/// <param name="Marked">Number, from 0, of the message of each vehicle whose sending is told; -1 for none.</param>
internal sealed record FleetTraffic(int Port, int Vehicles, int Samples, int Rate, long Start, bool Laden, int Marked)
{
    /// <summary>Number of the first vehicle.</summary>
    public int First { get; init; }

    /// <summary>0 where all take turns from the beginning to the end; else one vehicle after the other sets out, each sends so many messages, and so many are on the road at a time.</summary>
    public int OnTheRoad { get; init; }

    public static FleetTraffic Parse(string[] words)
    {
        var numbers = words.Select(w => long.Parse(w, CultureInfo.InvariantCulture)).ToArray();
        return new FleetTraffic((int)numbers[0], (int)numbers[1], (int)numbers[2], (int)numbers[3], numbers[4], numbers[5] == 1, (int)numbers[6])
        {
            First = (int)numbers[7], OnTheRoad = (int)numbers[8],
        };
    }

    public IEnumerable<string> Words() =>
        new[] { Port, Vehicles, Samples, Rate, Start, Laden ? 1 : 0, Marked, First, OnTheRoad }.Select(n => n.ToString(CultureInfo.InvariantCulture));

    /// <summary>Who is at turn, from 0, and with which of its messages.</summary>
    public (int Vehicle, int Number) Turn(long turn) => OnTheRoad == 0
        ? ((int)(turn % Vehicles), (int)(turn / Vehicles))
        : ((int)(turn / OnTheRoad - turn % OnTheRoad), (int)(turn % OnTheRoad));

    /// <summary>What each vehicle sends in turn: the same of all, so that what follows from it follows at the same message.</summary>
    public static LoadPayload[] Payloads(int samples, bool laden)
    {
        var random = new SeededRandom(7);
        return [.. Enumerable.Range(0, 64).Select(_ => new LoadPayload(samples, laden ? (950, 950) : (412.5, 398.1), random))];
    }

    /// <summary>Moment of the first sample of a message.</summary>
    public long At(int number) => Start + 1000L * number * Samples;
}

/// <summary>
/// Publishes a fleet's messages at quality of service 1 on one connection: packets encoded once, stamped and written straight to a socket. A process
/// of its own; tells once a second how many it has sent, and when it sent what is marked.
/// </summary>
internal sealed class FleetSender(FleetTraffic traffic, Stream stream)
{
    private const int Chunk = 40, Window = 800;

    private readonly LoadPayload[] _payloads = FleetTraffic.Payloads(traffic.Samples, traffic.Laden);
    private readonly byte[] _buffer = new byte[64 * 1024];
    private readonly StringBuilder _marks = new();
    private byte[] _chunk = new byte[Chunk * 256];
    private long _turn, _sent, _acknowledged = -1, _toldAt;
    private int _skip, _held;

    public static async Task RunAsync(FleetTraffic traffic)
    {
        using var client = new TcpClient { NoDelay = true };
        await client.ConnectAsync("127.0.0.1", traffic.Port);
        await new FleetSender(traffic, client.GetStream()).RunAsync();
    }

    private async Task RunAsync()
    {
        var began = Stopwatch.GetTimestamp();
        await stream.WriteAsync(new byte[] { 0x10, 19, 0, 4, (byte)'M', (byte)'Q', (byte)'T', (byte)'T', 5, 2, 0, 0, 0, 0, 6, (byte)'s', (byte)'e', (byte)'n', (byte)'d', (byte)'r', (byte)(traffic.First == 0 ? '1' : '2') });
        while (true)
        {
            var length = Fill();
            if (length == 0) return;
            await stream.WriteAsync(_chunk.AsMemory(0, length));
            Tell();
            if (traffic.Rate > 0 && TimeSpan.FromSeconds((double)_sent / traffic.Rate) - Stopwatch.GetElapsedTime(began) is { TotalMilliseconds: > 1 } early) await Task.Delay(early);
            while (_sent - Math.Max(_acknowledged, 0) > Window - Chunk)
                if (!await ReadAsync()) return;
        }
    }

    private int Fill()
    {
        var at = 0;
        for (var i = 0; i < Chunk; i++, _sent++)
        {
            if (Next() is not var (vehicle, number)) return at;
            if (number == traffic.Marked) _marks.Append(CultureInfo.InvariantCulture, $"marked {traffic.First + vehicle} {Stopwatch.GetTimestamp()}\n");
            at = Put(at, traffic.First + vehicle, number, (ushort)(_sent % Window + 1));
        }

        return at;
    }

    /// <summary>Who is at turn; <c>null</c> once all have arrived. Turns of those that have not set out yet, or have arrived, are passed over.</summary>
    private (int Vehicle, int Number)? Next()
    {
        while (true)
        {
            var next = traffic.Turn(_turn++);
            if (next.Vehicle >= 0 && next.Vehicle < traffic.Vehicles) return next;
            if (next.Vehicle >= traffic.Vehicles && next.Number == traffic.OnTheRoad - 1) return null;
        }
    }

    private int Put(int at, int vehicle, int number, ushort id)
    {
        var payload = _payloads[number % _payloads.Length];
        var topic = LoadFleet.Topic(vehicle, "frame");
        var body = 2 + topic.Length + 3 + payload.Bytes.Length;
        if (_chunk.Length < at + body + 4) Array.Resize(ref _chunk, 2 * (at + body + 4));
        var to = _chunk.AsSpan(at);
        to[0] = 0x32;
        var next = 1;
        for (var left = body; next == 1 || left > 0; left >>= 7) to[next++] = (byte)(left > 127 ? left & 127 | 128 : left);
        (to[next], to[next + 1]) = (0, (byte)topic.Length);
        next += 2 + Encoding.ASCII.GetBytes(topic, to[(next + 2)..]);
        (to[next], to[next + 1], to[next + 2]) = ((byte)(id >> 8), (byte)id, 0);
        next += 3;
        payload.Bytes.CopyTo(to[next..]);
        payload.Stamp(to.Slice(next, payload.Bytes.Length), traffic.At(number), 1000);
        return at + next + payload.Bytes.Length;
    }

    /// <summary>Counts acknowledgements: packets of four or five bytes; a length and what it counts.</summary>
    private async Task<bool> ReadAsync()
    {
        var read = await stream.ReadAsync(_buffer.AsMemory(_held, _buffer.Length - _held));
        if (read == 0) return false;
        var (end, position) = (_held + read, 0);
        while (end - position >= 2 && end - position >= 2 + (_skip = _buffer[position + 1]))
        {
            position += 2 + _skip;
            _acknowledged++;
        }

        _buffer.AsSpan(position, end - position).CopyTo(_buffer);
        _held = end - position;
        return true;
    }

    private void Tell()
    {
        var now = Stopwatch.GetTimestamp();
        if (Stopwatch.GetElapsedTime(_toldAt, now).TotalSeconds < 1) return;
        _toldAt = now;
        Console.Write(string.Create(CultureInfo.InvariantCulture, $"{_marks}sent {_sent} {now}\n"));
        _marks.Clear();
    }
}

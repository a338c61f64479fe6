using System.Diagnostics;
using System.Net.Sockets;
using System.Text;

namespace AxleTelemetry.Benchmarks.Receiving;

/// <summary>Publishes at quality of service 1 as fast as a broker takes it: packets encoded once and written straight to sockets. A process of its own.</summary>
internal static class LoadSender
{
    private const int Connections = 2, Chunks = 20, ChunkMessages = 40;
    private const string Payload = """{"seq":1042,"samples":[{"t":"2026-03-02T06:14:05.000Z","kpa":{"drive":412.5,"tag":398.1,"front":287.4,"lift":12.3},"speed_mps":22.1}]}""";

    /// <param name="port">The broker's.</param>
    /// <param name="rate">Messages a second; 0 for as many as it takes.</param>
    public static Task RunAsync(int port, int rate) => Task.WhenAll(Enumerable.Range(1, Connections).Select(i => SendAsync(port, i, rate)));

    private static async Task SendAsync(int port, int number, int rate)
    {
        var began = Stopwatch.GetTimestamp();
        using var client = new TcpClient { NoDelay = true };
        await client.ConnectAsync("127.0.0.1", port);
        var stream = client.GetStream();
        await stream.WriteAsync(Packet(0x10, [.. Text("MQTT"), 5, 2, 0, 0, 0, .. Text($"sender-{number}")]));
        var chunks = Enumerable.Range(0, Chunks).Select(chunk => Chunk(chunk, $"axles/v1/example/RT-{number:00}/frame")).ToArray();
        var acknowledged = -1L;
        var sent = 0L;
        var buffer = new byte[64 * 1024];
        int skip = 0, at = 0;
        for (var next = 0; ; next = (next + 1) % Chunks)
        {
            await stream.WriteAsync(chunks[next]);
            sent += ChunkMessages;
            if (rate > 0 && TimeSpan.FromSeconds((double)sent * Connections / rate) - Stopwatch.GetElapsedTime(began) is { Ticks: > 0 } early) await Task.Delay(early);
            // A chunk goes out again when its packet ids are free again.
            while (sent - Math.Max(acknowledged, 0) > (Chunks - 1) * ChunkMessages)
            {
                var read = await stream.ReadAsync(buffer.AsMemory(at, buffer.Length - at));
                if (read == 0) return;
                var end = at + read;
                var position = 0;
                while (end - position >= 2 && end - position >= 2 + (skip = buffer[position + 1]))
                {
                    position += 2 + skip;
                    acknowledged++;
                }

                buffer.AsSpan(position, end - position).CopyTo(buffer);
                at = end - position;
            }
        }
    }

    private static byte[] Chunk(int chunk, string topic) =>
        [.. Enumerable.Range(chunk * ChunkMessages + 1, ChunkMessages).SelectMany(id => Packet(0x32, [.. Text(topic), (byte)(id >> 8), (byte)id, 0, .. Encoding.UTF8.GetBytes(Payload)]))];

    private static byte[] Packet(byte head, byte[] body) => body.Length < 128 ? [head, (byte)body.Length, .. body] : [head, (byte)(body.Length % 128 + 128), (byte)(body.Length / 128), .. body];

    private static byte[] Text(string text) => [0, (byte)text.Length, .. Encoding.ASCII.GetBytes(text)];
}

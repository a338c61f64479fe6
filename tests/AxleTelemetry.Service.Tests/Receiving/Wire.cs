using System.Buffers.Binary;
using System.Net.Sockets;
using System.Text;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>MQTT 5 packets as they stand on the wire, read and written by hand, so that a test sees what the library hides.</summary>
internal sealed class Wire(Stream stream) : IDisposable
{
    public const byte Connect = 1, ConnAck = 2, Publish = 3, PubAck = 4, Subscribe = 8, SubAck = 9, PingReq = 12, Disconnect = 14;

    public static async Task<Wire> To(int port)
    {
        var client = new TcpClient();
        await client.ConnectAsync("127.0.0.1", port);
        return new Wire(client.GetStream());
    }

    public static byte[] PublishPacket(string topic, ushort id, byte[] payload, bool redelivered = false) =>
        Packet((byte)(0x32 | (redelivered ? 8 : 0)), [.. Text(topic), .. U16(id), 0, .. payload]);

    public static byte[] PublishPacket(string topic, ushort id, string payload, bool redelivered = false) => PublishPacket(topic, id, Encoding.UTF8.GetBytes(payload), redelivered);

    /// <summary>No clean start, a session of an hour.</summary>
    public static byte[] ConnectPacket(string clientId) => Packet(0x10, [.. Text("MQTT"), 5, 0, 0, 0, 5, 0x11, 0, 0, 0x0E, 0x10, .. Text(clientId)]);

    public static byte[] Packet(byte head, byte[] body)
    {
        var length = new List<byte>();
        var rest = body.Length;
        do
        {
            length.Add((byte)(rest % 128 + (rest >= 128 ? 128 : 0)));
            rest /= 128;
        }
        while (rest > 0);
        return [head, .. length, .. body];
    }

    public Task Send(byte[] bytes) => stream.WriteAsync(bytes).AsTask();

    /// <summary>The next packet; <c>null</c> when the other side has closed.</summary>
    public async Task<(int Type, byte[] Body)?> Next()
    {
        try
        {
            var head = new byte[1];
            if (await stream.ReadAsync(head) == 0) return null;
            int length = 0, shift = 0;
            var part = new byte[1];
            do
            {
                await stream.ReadExactlyAsync(part);
                length |= (part[0] & 0x7F) << shift;
                shift += 7;
            }
            while (part[0] >= 128);
            var body = new byte[length];
            await stream.ReadExactlyAsync(body);
            return (head[0] >> 4, body);
        }
        catch (Exception closed) when (closed is IOException or ObjectDisposedException or SocketException)
        {
            return null;
        }
    }

    public static ushort Id(byte[] body) => BinaryPrimitives.ReadUInt16BigEndian(body);

    public void Dispose() => stream.Dispose();

    public static byte[] U16(int value) => [(byte)(value >> 8), (byte)value];

    private static byte[] Text(string text) => [.. U16(Encoding.UTF8.GetByteCount(text)), .. Encoding.UTF8.GetBytes(text)];
}

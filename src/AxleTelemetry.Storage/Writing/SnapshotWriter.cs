using System.IO.Compression;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Keeps and drops states by event time, compressed where that makes them smaller.</summary>
internal sealed class SnapshotWriter
{
    private const int Quality = 1;
    private const int WindowBits = 16;

    private byte[] room = [];

    public void Write(Connection connection, SnapshotChange change, long vehicle)
    {
        switch (change)
        {
            case SnapshotChange.Keep keep:
                connection.Sql("INSERT OR REPLACE INTO snapshot(vehicle, upto, size, bytes) VALUES(?1, ?2, ?3, ?4)")
                    .Bind(1, vehicle).Bind(2, keep.UpTo.UnixMilliseconds).Bind(3, keep.Bytes.Length).Bind(4, Packed(keep.Bytes.AsSpan())).Run();
                break;
            case SnapshotChange.Drop drop:
                connection.Sql("DELETE FROM snapshot WHERE vehicle = ?1 AND upto = ?2").Bind(1, vehicle).Bind(2, drop.UpTo.UnixMilliseconds).Run();
                break;
            default:
                throw new InvalidOperationException($"unknown change {change}");
        }
    }

    /// <summary>The bytes back from what was stored: as they are where they have their full length, else unpacked.</summary>
    /// <exception cref="InvalidDataException">The disk changed them.</exception>
    public static byte[] Unpack(ReadOnlySpan<byte> stored, int size)
    {
        if (stored.Length == size) return stored.ToArray();
        var plain = new byte[size];
        return BrotliDecoder.TryDecompress(stored, plain, out var written) && written == size
            ? plain
            : throw new InvalidDataException("A snapshot cannot be unpacked: the disk changed it.");
    }

    // Offered less room than the bytes themselves take, the encoder fails where it gains nothing.
    private ReadOnlySpan<byte> Packed(ReadOnlySpan<byte> plain)
    {
        if (plain.IsEmpty) return plain;
        if (room.Length < plain.Length) room = new byte[plain.Length];
        return BrotliEncoder.TryCompress(plain, room.AsSpan(0, plain.Length - 1), out var written, Quality, WindowBits) ? room.AsSpan(0, written) : plain;
    }
}

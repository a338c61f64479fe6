using System.Buffers.Binary;
using System.Collections.Immutable;
using System.IO.Compression;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Sealing;

/// <summary>
/// Inputs of one vehicle in one compressed piece. Column by column, since what is alike then stands together; the payloads follow one
/// another at the end.
/// </summary>
internal static class Block
{
    private const int Quality = 5;
    private const int WindowBits = 22;

    public static byte[] Compress(ReadOnlySpan<byte> plain)
    {
        var room = new byte[BrotliEncoder.GetMaxCompressedLength(plain.Length)];
        if (!BrotliEncoder.TryCompress(plain, room, out var written, Quality, WindowBits)) throw new InvalidOperationException("The room for a block was too small.");
        return room[..written];
    }

    /// <summary>The inputs of a block, once its bytes agree with what was written beside them.</summary>
    /// <exception cref="DamagedBlockException">They do not.</exception>
    public static ImmutableArray<LoggedInput> Open(VehicleKey vehicle, ReadOnlySpan<byte> stored, int size, ReadOnlySpan<byte> sha256)
    {
        var plain = new byte[size];
        if (!BrotliDecoder.TryDecompress(stored, plain, out var written) || written != size || !SHA256.HashData(plain).AsSpan().SequenceEqual(sha256))
        {
            throw new DamagedBlockException($"A sealed block of {vehicle.Fleet}/{vehicle.Vehicle} does not agree with its SHA-256.");
        }

        return Unpack(vehicle, plain);
    }

    public static byte[] Pack(IReadOnlyList<LoggedInput> inputs)
    {
        using var plain = new MemoryStream();
        Put(plain, inputs.Count);
        Column(plain, inputs, i => i.Position.Stored);
        Column(plain, inputs, i => i.Row.Kind.Code);
        Column(plain, inputs, i => i.Row.Stream.Code);
        Column(plain, inputs, i => i.Row.Received.UnixMilliseconds);
        Column(plain, inputs, i => i.Row.Samples.Least.UnixMilliseconds);
        Column(plain, inputs, i => i.Row.Samples.Greatest.UnixMilliseconds);
        Column(plain, inputs, i => i.Row.Bytes.Length);
        foreach (var input in inputs) plain.Write(input.Row.Bytes.AsSpan());
        return plain.ToArray();
    }

    private static ImmutableArray<LoggedInput> Unpack(VehicleKey vehicle, ReadOnlySpan<byte> plain)
    {
        var count = (int)Take(ref plain);
        var columns = new long[7][];
        for (var c = 0; c < columns.Length; c++) columns[c] = Column(ref plain, count);
        var inputs = ImmutableArray.CreateBuilder<LoggedInput>(count);
        for (var i = 0; i < count; i++)
        {
            var length = (int)columns[6][i];
            inputs.Add(new LoggedInput(Position.FromStored(columns[0][i]), new InputRow
            {
                Vehicle = vehicle,
                Kind = new RowKind((int)columns[1][i]),
                Stream = new StreamCode((int)columns[2][i]),
                Received = new Moment(columns[3][i]),
                Samples = new SampleSpan(new Moment(columns[4][i]), new Moment(columns[5][i])),
                Bytes = ImmutableCollectionsMarshal.AsImmutableArray(plain[..length].ToArray()),
            }));
            plain = plain[length..];
        }

        return inputs.MoveToImmutable();
    }

    private static void Column(Stream plain, IReadOnlyList<LoggedInput> inputs, Func<LoggedInput, long> value)
    {
        var before = 0L;
        foreach (var input in inputs)
        {
            var now = value(input);
            Put(plain, unchecked(now - before));
            before = now;
        }
    }

    private static long[] Column(ref ReadOnlySpan<byte> plain, int count)
    {
        var column = new long[count];
        var before = 0L;
        for (var i = 0; i < count; i++) column[i] = before = unchecked(before + Take(ref plain));
        return column;
    }

    // Differences of eight bytes each: Brotli makes of their zeros what a shorter code would, with less to go wrong.
    private static void Put(Stream plain, long value)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(bytes, value);
        plain.Write(bytes);
    }

    private static long Take(ref ReadOnlySpan<byte> plain)
    {
        var value = BinaryPrimitives.ReadInt64LittleEndian(plain);
        plain = plain[sizeof(long)..];
        return value;
    }
}

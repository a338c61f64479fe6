using System.Buffers;
using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>Numbers, words and lists as bytes, little-endian. Reading trusts what a checksum has vouched for.</summary>
internal static class Bytes
{
    public delegate T Reader<out T>(ref ReadOnlySpan<byte> from);

    public static void Put(ArrayBufferWriter<byte> to, long value)
    {
        BinaryPrimitives.WriteInt64LittleEndian(to.GetSpan(8), value);
        to.Advance(8);
    }

    public static void Put(ArrayBufferWriter<byte> to, double value) => Put(to, BitConverter.DoubleToInt64Bits(value));

    public static void Put(ArrayBufferWriter<byte> to, bool value) => Put(to, (byte)(value ? 1 : 0));

    public static void Put(ArrayBufferWriter<byte> to, byte value)
    {
        to.GetSpan(1)[0] = value;
        to.Advance(1);
    }

    public static void Put(ArrayBufferWriter<byte> to, Moment value) => Put(to, value.UnixMilliseconds);

    public static void Put(ArrayBufferWriter<byte> to, string value)
    {
        // Character by character: a lone surrogate in somebody's note must come back as it was.
        Put(to, value.Length);
        var span = to.GetSpan(value.Length * 2 + 1);
        for (var i = 0; i < value.Length; i++) BinaryPrimitives.WriteUInt16LittleEndian(span[(2 * i)..], value[i]);
        to.Advance(value.Length * 2);
    }

    public static void PutMaybe<T>(ArrayBufferWriter<byte> to, T? value, Action<ArrayBufferWriter<byte>, T> put) where T : struct
    {
        Put(to, value.HasValue);
        if (value is { } present) put(to, present);
    }

    public static void PutAll<T>(ArrayBufferWriter<byte> to, ImmutableArray<T> values, Action<ArrayBufferWriter<byte>, T> put)
    {
        Put(to, values.Length);
        foreach (var value in values) put(to, value);
    }

    public static long Number(ref ReadOnlySpan<byte> from)
    {
        var value = BinaryPrimitives.ReadInt64LittleEndian(from);
        from = from[8..];
        return value;
    }

    public static int Count(ref ReadOnlySpan<byte> from) => checked((int)Number(ref from));

    public static double Real(ref ReadOnlySpan<byte> from) => BitConverter.Int64BitsToDouble(Number(ref from));

    public static byte Small(ref ReadOnlySpan<byte> from)
    {
        var value = from[0];
        from = from[1..];
        return value;
    }

    public static bool Flag(ref ReadOnlySpan<byte> from) => Small(ref from) != 0;

    public static Moment Moment(ref ReadOnlySpan<byte> from) => new(Number(ref from));

    public static LogPosition Position(ref ReadOnlySpan<byte> from) => new(Number(ref from), Count(ref from));

    public static string Text(ref ReadOnlySpan<byte> from)
    {
        var text = new StringBuilder();
        for (var left = Count(ref from); left > 0; left--)
        {
            text.Append((char)BinaryPrimitives.ReadUInt16LittleEndian(from));
            from = from[2..];
        }

        return text.ToString();
    }

    public static T? Maybe<T>(ref ReadOnlySpan<byte> from, Reader<T> read) where T : struct => Flag(ref from) ? read(ref from) : null;

    public static ImmutableArray<T> All<T>(ref ReadOnlySpan<byte> from, Reader<T> read)
    {
        var count = Count(ref from);
        var all = ImmutableArray.CreateBuilder<T>(count);
        for (var i = 0; i < count; i++) all.Add(read(ref from));
        return all.MoveToImmutable();
    }
}

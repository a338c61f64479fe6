using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Reads what a <see cref="ByteWriter"/> wrote. Never throws for what the bytes hold: what is missing reads as zero, and <see cref="Failed"/> says so.</summary>
public ref struct ByteReader(ReadOnlySpan<byte> bytes)
{
    private ReadOnlySpan<byte> _rest = bytes;

    /// <summary>True once more was asked for than there is.</summary>
    public bool Failed { get; private set; }

    /// <summary>Bytes not read yet.</summary>
    public readonly int Left => _rest.Length;

    /// <summary>True where everything was read and nothing was missing.</summary>
    public readonly bool EndedWell => !Failed && _rest.IsEmpty;

    /// <summary>One byte.</summary>
    public byte Byte() => Take(1) is { IsEmpty: false } taken ? taken[0] : (byte)0;

    /// <summary>One byte, not zero.</summary>
    public bool Flag() => Byte() != 0;

    /// <summary>Four bytes.</summary>
    public int Int() => Take(4) is { IsEmpty: false } taken ? BinaryPrimitives.ReadInt32LittleEndian(taken) : 0;

    /// <summary>Eight bytes.</summary>
    public long Long() => Take(8) is { IsEmpty: false } taken ? BinaryPrimitives.ReadInt64LittleEndian(taken) : 0;

    /// <summary>Eight bytes, bit by bit.</summary>
    public double Double() => Take(8) is { IsEmpty: false } taken ? BinaryPrimitives.ReadDoubleLittleEndian(taken) : 0;

    /// <summary>Length, then UTF-8.</summary>
    public string Text() => Encoding.UTF8.GetString(Take(Int()));

    /// <summary>A number of things that follow, each at least one byte long: never more than there are bytes.</summary>
    public int Count()
    {
        var count = Int();
        if (count >= 0 && count <= _rest.Length) return count;
        Failed = true;
        return 0;
    }

    /// <summary>Plain numbers as they lie in memory.</summary>
    internal void Raw<T>(Span<T> into)
        where T : unmanaged
    {
        var bytes = MemoryMarshal.AsBytes(into);
        Take(bytes.Length).CopyTo(bytes);
    }

    private ReadOnlySpan<byte> Take(int length)
    {
        if (length < 0 || length > _rest.Length)
        {
            Failed = true;
            _rest = default;
            return default;
        }

        var taken = _rest[..length];
        _rest = _rest[length..];
        return taken;
    }
}

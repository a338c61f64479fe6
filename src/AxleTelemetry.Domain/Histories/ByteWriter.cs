using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// Writes values as bytes that are the same on every machine: least significant byte first, a number with a point as its
/// eight bytes, text as its length and UTF-8. Grows as needed; used again after <see cref="Clear"/> it allocates nothing.
/// </summary>
public sealed class ByteWriter
{
    private byte[] _bytes = new byte[256];
    private int _length;

    /// <summary>What was written.</summary>
    public ReadOnlySpan<byte> Written => _bytes.AsSpan(0, _length);

    /// <summary>Forgets what was written.</summary>
    public void Clear() => _length = 0;

    /// <summary>One byte.</summary>
    public void Byte(byte value) => Room(1)[0] = value;

    /// <summary>One byte: 1 for true, 0 for false.</summary>
    public void Flag(bool value) => Byte((byte)(value ? 1 : 0));

    /// <summary>Four bytes.</summary>
    public void Int(int value) => BinaryPrimitives.WriteInt32LittleEndian(Room(4), value);

    /// <summary>Eight bytes.</summary>
    public void Long(long value) => BinaryPrimitives.WriteInt64LittleEndian(Room(8), value);

    /// <summary>Eight bytes, bit by bit.</summary>
    public void Double(double value) => BinaryPrimitives.WriteDoubleLittleEndian(Room(8), value);

    /// <summary>Length in bytes, then UTF-8.</summary>
    public void Text(string value)
    {
        var length = Encoding.UTF8.GetByteCount(value);
        Int(length);
        Encoding.UTF8.GetBytes(value, Room(length));
    }

    /// <summary>Plain numbers as they lie in memory.</summary>
    internal void Raw<T>(ReadOnlySpan<T> values)
        where T : unmanaged => MemoryMarshal.AsBytes(values).CopyTo(Room(MemoryMarshal.AsBytes(values).Length));

    private Span<byte> Room(int length)
    {
        if (_length + length > _bytes.Length) Array.Resize(ref _bytes, Math.Max(2 * _bytes.Length, _length + length));
        _length += length;
        return _bytes.AsSpan(_length - length, length);
    }
}

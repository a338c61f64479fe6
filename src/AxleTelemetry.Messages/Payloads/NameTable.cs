using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Numerics;
using System.Text;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// From UTF-8 names to their index in a list, without allocation: open addressing over a table at most half full.
/// Immutable. A name of a device that is not in the table costs one probe or two.
/// </summary>
internal sealed class NameTable
{
    private readonly byte[][] names;
    private readonly ushort[] slots; // index + 1; 0 is free
    private readonly int mask;

    /// <summary>Builds the table. Throws <see cref="ArgumentException"/> for an empty or repeated name or more than 65 534.</summary>
    public NameTable(IEnumerable<string> names)
    {
        Names = [.. names];
        if (Names.Length >= ushort.MaxValue) throw new ArgumentException("At most 65534 names.", nameof(names));
        this.names = [.. Names.Select(Encoding.UTF8.GetBytes)];
        slots = new ushort[BitOperations.RoundUpToPowerOf2((uint)Math.Max(4, 2 * Names.Length))];
        mask = slots.Length - 1;
        for (var i = 0; i < Names.Length; i++)
        {
            if (Names[i].Length == 0) throw new ArgumentException("A name is empty.", nameof(names));
            if (Find(this.names[i]) >= 0) throw new ArgumentException($"The name '{Names[i]}' stands twice.", nameof(names));
            slots[FreeSlot(this.names[i])] = (ushort)(i + 1);
        }
    }

    /// <summary>The names in the order given.</summary>
    public ImmutableArray<string> Names { get; }

    /// <summary>Index of a name, -1 when it is not here.</summary>
    public int Find(ReadOnlySpan<byte> name)
    {
        for (var slot = Hash(name) & mask; ; slot = (slot + 1) & mask)
        {
            var index = slots[slot] - 1;
            if (index < 0 || name.SequenceEqual(names[index])) return index;
        }
    }

    private int FreeSlot(ReadOnlySpan<byte> name)
    {
        var slot = Hash(name) & mask;
        while (slots[slot] != 0) slot = (slot + 1) & mask;
        return slot;
    }

    // Length, head and tail tell names apart; the middle is left to the comparison.
    private static int Hash(ReadOnlySpan<byte> name)
    {
        ulong head = 0, tail = 0;
        if (name.Length >= 8)
        {
            head = BinaryPrimitives.ReadUInt64LittleEndian(name);
            tail = BinaryPrimitives.ReadUInt64LittleEndian(name[^8..]);
        }
        else if (name.Length >= 4)
        {
            head = BinaryPrimitives.ReadUInt32LittleEndian(name);
            tail = BinaryPrimitives.ReadUInt32LittleEndian(name[^4..]);
        }
        else if (name.Length > 0)
        {
            head = name[0] | (ulong)name[name.Length / 2] << 8 | (ulong)name[^1] << 16;
        }

        var mixed = (head ^ BitOperations.RotateLeft(tail, 29) ^ ((ulong)name.Length << 56)) * 0x9E3779B97F4A7C15;
        return (int)(mixed >> 40);
    }
}

using System.Buffers;
using System.Buffers.Binary;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// A book as bytes, for checkpoints. Two books that hold the same give the same bytes. Head: version, length, a checksum over
/// the rest; a torn or foreign checkpoint is refused by name and never half read.
/// </summary>
public static class AlertBookCodec
{
    // Before the second version nobody entered whom an alert reached: apart from these its bytes are the same.
    private const int Version = 2, Oldest = 1, Head = 16;

    /// <summary>The book as bytes.</summary>
    public static byte[] Encode(AlertBook book)
    {
        var body = new ArrayBufferWriter<byte>();
        Bytes.Put(body, book.Through.Batch);
        Bytes.Put(body, book.Through.Row);
        Bytes.PutAll(body, [.. book.Vehicles], static (to, pair) =>
        {
            Bytes.Put(to, pair.Key.Fleet);
            Bytes.Put(to, pair.Key.Id);
            VehicleBytes.Put(to, pair.Value);
        });
        var whole = new byte[Head + body.WrittenCount];
        BinaryPrimitives.WriteInt32LittleEndian(whole, Version);
        BinaryPrimitives.WriteInt32LittleEndian(whole.AsSpan(4), body.WrittenCount);
        BinaryPrimitives.WriteUInt64LittleEndian(whole.AsSpan(8), Checksum(body.WrittenSpan));
        body.WrittenSpan.CopyTo(whole.AsSpan(Head));
        return whole;
    }

    /// <summary>The book behind bytes, or why there is none.</summary>
    public static BookReading Decode(ReadOnlySpan<byte> whole)
    {
        if (whole.Length < Head) return new BookReading.Unreadable(BookFault.TooShort);
        if (BinaryPrimitives.ReadInt32LittleEndian(whole) is < Oldest or > Version) return new BookReading.Unreadable(BookFault.OtherVersion);
        var body = whole[Head..];
        if (BinaryPrimitives.ReadInt32LittleEndian(whole[4..]) != body.Length) return new BookReading.Unreadable(BookFault.OtherLength);
        if (BinaryPrimitives.ReadUInt64LittleEndian(whole[8..]) != Checksum(body)) return new BookReading.Unreadable(BookFault.ChecksumDiffers);
        return new BookReading.Read(Book(ref body));
    }

    private static AlertBook Book(ref ReadOnlySpan<byte> from)
    {
        var through = Bytes.Position(ref from);
        var vehicles = ImmutableSortedDictionary.CreateBuilder<VehicleName, VehicleAlerts>();
        for (var left = Bytes.Count(ref from); left > 0; left--)
        {
            var name = new VehicleName(Bytes.Text(ref from), Bytes.Text(ref from));
            vehicles.Add(name, VehicleBytes.Take(ref from, name));
        }

        return new AlertBook { Vehicles = vehicles.ToImmutable(), Through = through };
    }

    // FNV-1a, 64 bits: against torn writes, not against malice.
    private static ulong Checksum(ReadOnlySpan<byte> bytes)
    {
        var sum = 14695981039346656037UL;
        foreach (var b in bytes) sum = unchecked((sum ^ b) * 1099511628211UL);
        return sum;
    }
}

/// <summary>What came of reading a book.</summary>
public abstract record BookReading
{
    private BookReading() { }

    /// <summary>It was read.</summary>
    public sealed record Read(AlertBook Book) : BookReading;

    /// <summary>It was not.</summary>
    public sealed record Unreadable(BookFault Fault) : BookReading;
}

/// <summary>Why a book cannot be read.</summary>
public enum BookFault : byte
{
    /// <summary>Shorter than its head.</summary>
    TooShort,

    /// <summary>Written by another version.</summary>
    OtherVersion,

    /// <summary>Cut off, or followed by something.</summary>
    OtherLength,

    /// <summary>Not what was written.</summary>
    ChecksumDiffers,
}

using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>
/// SHA-256 over history in force, by fleet, vehicle, kind, time and key. Positions and what goes beside a row are left out, so equal
/// histories have equal digests however they came about. Every text and every piece of bytes is preceded by its length.
/// </summary>
/// <remarks>Whoever adds rows keeps that order, texts compared by their UTF-8 bytes; without text beyond U+D7FF that is the ordinal order.</remarks>
public sealed class HistoryDigest : IDisposable
{
    private const int ShortText = 256;

    private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

    /// <summary>Adds a row.</summary>
    public void Add(VehicleKey vehicle, RowKind kind, Moment time, string key, ReadOnlySpan<byte> bytes)
    {
        Add(vehicle.Fleet);
        Add(vehicle.Vehicle);
        Add(kind.Code);
        Add(time.UnixMilliseconds);
        Add(key);
        Add(bytes);
    }

    /// <summary>The digest of what was added, in lower-case hexadecimal; the next row begins a new one.</summary>
    public string ToHex() => Convert.ToHexStringLower(hash.GetHashAndReset());

    /// <inheritdoc/>
    public void Dispose() => hash.Dispose();

    private void Add(string text)
    {
        Span<byte> room = stackalloc byte[ShortText];
        if (Encoding.UTF8.TryGetBytes(text, room, out var length)) Add(room[..length]);
        else Add(Encoding.UTF8.GetBytes(text));
    }

    private void Add(ReadOnlySpan<byte> bytes)
    {
        Add(bytes.Length);
        hash.AppendData(bytes);
    }

    private void Add(long number)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(bytes, number);
        hash.AppendData(bytes);
    }
}

using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>
/// SHA-256 over the history in force, by fleet, vehicle, kind, time and key. Positions and what goes beside a row are left out, so equal
/// histories have equal digests however they came about. Every text and every piece of bytes is preceded by its length.
/// </summary>
internal static class Digest
{
    public static string Of(Connection connection)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var (number, fleet, name) in Vehicles(connection)) Add(hash, connection, number, fleet, name);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static List<(long Number, string Fleet, string Name)> Vehicles(Connection connection)
    {
        var read = connection.Sql("SELECT id, fleet, name FROM vehicle ORDER BY fleet, name");
        var vehicles = new List<(long, string, string)>();
        while (read.Step()) vehicles.Add((read.Long(0), read.Text(1), read.Text(2)));
        return vehicles;
    }

    private static void Add(IncrementalHash hash, Connection connection, long number, string fleet, string name)
    {
        var read = connection.Sql("SELECT kind, t, key, bytes FROM history WHERE vehicle = ?1 AND bytes IS NOT NULL ORDER BY kind, t, key").Bind(1, number);
        while (read.Step())
        {
            Add(hash, Encoding.UTF8.GetBytes(fleet));
            Add(hash, Encoding.UTF8.GetBytes(name));
            Add(hash, read.Long(0));
            Add(hash, read.Long(1));
            Add(hash, Encoding.UTF8.GetBytes(read.Text(2)));
            Add(hash, read.Blob(3));
        }
    }

    private static void Add(IncrementalHash hash, ReadOnlySpan<byte> bytes)
    {
        Add(hash, bytes.Length);
        hash.AppendData(bytes);
    }

    private static void Add(IncrementalHash hash, long number)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(bytes, number);
        hash.AppendData(bytes);
    }
}

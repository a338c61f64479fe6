using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>The digest of all history in force.</summary>
internal static class Digest
{
    public static string Of(Connection connection)
    {
        using var digest = new HistoryDigest();
        foreach (var (number, vehicle) in Numbered(connection)) Add(digest, connection, number, vehicle);
        return digest.ToHex();
    }

    private static List<(long Number, VehicleKey Vehicle)> Numbered(Connection connection)
    {
        var read = connection.Sql("SELECT id, fleet, name FROM vehicle ORDER BY fleet, name");
        var vehicles = new List<(long, VehicleKey)>();
        while (read.Step()) vehicles.Add((read.Long(0), new VehicleKey(read.Text(1), read.Text(2))));
        return vehicles;
    }

    private static void Add(HistoryDigest digest, Connection connection, long number, VehicleKey vehicle)
    {
        var read = connection.Sql("SELECT kind, t, key, bytes FROM history WHERE vehicle = ?1 AND bytes IS NOT NULL ORDER BY kind, t, key").Bind(1, number);
        while (read.Step()) digest.Add(vehicle, new RowKind(read.Int(0)), new Moment(read.Long(1)), read.Text(2), read.Blob(3));
    }
}

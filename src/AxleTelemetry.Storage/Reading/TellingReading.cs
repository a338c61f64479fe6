using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads what was told.</summary>
internal static class TellingReading
{
    private const string Select = "SELECT position, fleet, name, kind, key, at, bytes FROM telling";
    private const string Joined = "CROSS JOIN vehicle ON vehicle.id = vehicle WHERE";

    // No text in UTF-8 that begins so lies beyond it.
    private const string KeyBegins = "key >= ?4 AND key <= ?4 || char(1114111)";

    public static ImmutableArray<(Position Position, TellingRow Row)> After(Connection connection, Position after, int limit) =>
        Rows(connection.Sql($"{Select} {Joined} position > ?1 ORDER BY position LIMIT ?2").Bind(1, after.Stored).Bind(2, limit));

    public static ImmutableArray<(Position Position, TellingRow Row)> Before(Connection connection, Position before, int limit) =>
        Rows(connection.Sql($"{Select} {Joined} position < ?1 ORDER BY position DESC LIMIT ?2").Bind(1, before.Stored).Bind(2, limit));

    public static ImmutableArray<(Position Position, TellingRow Row)> OfVehicle(Connection connection, long vehicle, (Position After, int Limit) page) =>
        Rows(connection.Sql($"{Select} INDEXED BY telling_vehicle {Joined} vehicle = ?3 AND position > ?1 ORDER BY position LIMIT ?2")
            .Bind(1, page.After.Stored).Bind(2, page.Limit).Bind(3, vehicle));

    public static ImmutableArray<(Position Position, TellingRow Row)> OfKey(Connection connection, string key, (Position After, int Limit) page) =>
        Rows(connection.Sql($"{Select} INDEXED BY telling_key {Joined} {KeyBegins} AND position > ?1 ORDER BY position LIMIT ?2")
            .Bind(1, page.After.Stored).Bind(2, page.Limit).Bind(4, key));

    public static ImmutableArray<(Position Position, TellingRow Row)> OfBoth(Connection connection, (long Vehicle, string Key) what, (Position After, int Limit) page) =>
        Rows(connection.Sql($"{Select} INDEXED BY telling_key {Joined} {KeyBegins} AND vehicle = ?3 AND position > ?1 ORDER BY position LIMIT ?2")
            .Bind(1, page.After.Stored).Bind(2, page.Limit).Bind(3, what.Vehicle).Bind(4, what.Key));

    private static ImmutableArray<(Position Position, TellingRow Row)> Rows(Statement read)
    {
        var rows = ImmutableArray.CreateBuilder<(Position, TellingRow)>();
        while (read.Step())
        {
            rows.Add((Position.FromStored(read.Long(0)), new TellingRow(new VehicleKey(read.Text(1), read.Text(2)), new RowKind(read.Int(3)), read.Text(4))
            {
                At = new Moment(read.Long(5)),
                Bytes = HotInputs.Copy(read, 6),
            }));
        }

        return rows.ToImmutable();
    }
}

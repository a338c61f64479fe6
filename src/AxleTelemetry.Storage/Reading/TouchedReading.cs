using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads what single rows of a vehicle's history are asked for: the last of a kind, those touched from a moment on.</summary>
internal static class TouchedReading
{
    public static KeptHistory? Last(Connection connection, (VehicleKey Key, long Number) vehicle, RowKind kind)
    {
        var read = connection.Sql($"""
            SELECT t, key, {HistoryColumns.All} FROM history WHERE vehicle = ?1 AND kind = ?2 AND bytes IS NOT NULL ORDER BY t DESC, key DESC LIMIT 1
            """).Bind(1, vehicle.Number).Bind(2, kind.Code);
        if (!read.Step()) return null;
        var row = HistoryColumns.Kept(read, 2, new HistoryKey(vehicle.Key, kind, new Moment(read.Long(0)), read.Text(1)));
        read.Reset();
        return row;
    }

    /// <summary>By kind, time and key. The key of the table has the kind before the time, so each kind is entered by itself.</summary>
    public static ImmutableArray<KeptHistory> From(Connection connection, (VehicleKey Key, long Number) vehicle, Moment from)
    {
        var rows = new List<KeptHistory>();
        for (var kind = NextKind(connection, vehicle.Number, long.MinValue); kind is { } code; kind = NextKind(connection, vehicle.Number, code))
        {
            Add(rows, vehicle.Key, connection.Sql($"""
                SELECT kind, t, key, {HistoryColumns.All} FROM history WHERE vehicle = ?1 AND kind = ?3 AND t >= ?2 AND bytes IS NOT NULL
                """).Bind(1, vehicle.Number).Bind(2, from.UnixMilliseconds).Bind(3, code));
        }

        Add(rows, vehicle.Key, connection.Sql($"""
            SELECT kind, t, key, {HistoryColumns.All} FROM history INDEXED BY history_touched WHERE vehicle = ?1 AND touched >= ?2 AND t < ?2 AND touched <> t
            """).Bind(1, vehicle.Number).Bind(2, from.UnixMilliseconds));
        return [.. rows.OrderBy(r => r.Row.Key.Kind.Code).ThenBy(r => r.Row.Key.Time).ThenBy(r => r.Row.Key.Key, StringComparer.Ordinal)];
    }

    private static void Add(List<KeptHistory> rows, VehicleKey vehicle, Statement read)
    {
        while (read.Step())
        {
            rows.Add(HistoryColumns.Kept(read, 3, new HistoryKey(vehicle, new RowKind(read.Int(0)), new Moment(read.Long(1)), read.Text(2))));
        }
    }

    private static long? NextKind(Connection connection, long vehicle, long after)
    {
        var read = connection.Sql("SELECT kind FROM history WHERE vehicle = ?1 AND kind > ?2 ORDER BY kind LIMIT 1").Bind(1, vehicle).Bind(2, after);
        if (!read.Step()) return null;
        var kind = read.Long(0);
        read.Reset();
        return kind;
    }
}

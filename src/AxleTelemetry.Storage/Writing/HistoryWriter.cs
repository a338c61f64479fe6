using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Writes changes of history.</summary>
internal static class HistoryWriter
{
    // What may stand outside of a row is kept beside the new one. Once whoever carries has passed it, that is this row and no other; while it is only claimed it may be
    // this one or any before. One that was void stands nowhere.
    private const string Carried = """
        carried = CASE
            WHEN position <= (SELECT max(position) FROM cursor WHERE name IN (SELECT cursor FROM claim)) THEN CAST(printf('%08x', length(bytes)) || bytes AS BLOB)
            WHEN position <= (SELECT max(upto) FROM claim) AND bytes IS NOT NULL THEN CAST(coalesce(carried, x'') || printf('%08x', length(bytes)) || bytes AS BLOB)
            ELSE carried END
        """;

    // A row that is written as it stood did not change: cursors must not meet it again.
    private const string PutSql = $"""
        INSERT INTO history(vehicle, kind, t, key, position, aside, bytes) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7)
        ON CONFLICT(vehicle, kind, t, key) DO UPDATE SET {Carried}, position = ?5, aside = ?6, bytes = ?7, touched = NULL
        WHERE bytes IS NOT ?7 OR aside IS NOT ?6 OR touched IS NOT NULL
        """;

    private const string PutTouchedSql = $"""
        INSERT INTO history(vehicle, kind, t, key, position, aside, bytes, touched) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
        ON CONFLICT(vehicle, kind, t, key) DO UPDATE SET {Carried}, position = ?5, aside = ?6, bytes = ?7, touched = ?8
        WHERE bytes IS NOT ?7 OR aside IS NOT ?6 OR touched IS NOT ?8
        """;

    private const string VoidSql = $"""
        UPDATE history SET {Carried}, position = ?5, aside = NULL, bytes = NULL, touched = NULL
        WHERE vehicle = ?1 AND kind = ?2 AND t = ?3 AND key = ?4 AND bytes IS NOT NULL
        """;

    public static void Write(Connection connection, HistoryRow change, (long Vehicle, long Position) at)
    {
        switch (change)
        {
            case HistoryRow.Put put when Touched(put) is { } touched:
                Put(connection.Sql(PutTouchedSql), put, at).Bind(8, touched.UnixMilliseconds).Run();
                break;
            case HistoryRow.Put put:
                Put(connection.Sql(PutSql), put, at).Run();
                break;
            case HistoryRow.Void gone:
                Keyed(connection.Sql(VoidSql), gone.Key, at).Run();
                break;
            default:
                throw new InvalidOperationException($"unknown change {change}");
        }
    }

    // Rows of kind 0 come all the time: they have a touch of their own only where it says something.
    private static Moment? Touched(HistoryRow.Put put)
    {
        var touched = put.Touched ?? put.Key.Time;
        return put.Key.Kind.Code == 0 && touched == put.Key.Time ? null : touched;
    }

    private static Statement Put(Statement statement, HistoryRow.Put put, (long Vehicle, long Position) at) =>
        Keyed(statement, put.Key, at).Bind(6, put.Aside.AsSpan()).Bind(7, put.Bytes.AsSpan());

    private static Statement Keyed(Statement statement, HistoryKey key, (long Vehicle, long Position) at) => statement
        .Bind(1, at.Vehicle).Bind(2, key.Kind.Code).Bind(3, key.Time.UnixMilliseconds).Bind(4, key.Key).Bind(5, at.Position);
}

using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Keeps refused bytes within bounds: the oldest of the vehicle, then the oldest of all, make room and are counted.</summary>
internal sealed class RefusalKeeper(JournalOptions options)
{
    /// <summary>What a row costs beside its bytes, so that empty ones are bounded too.</summary>
    private const int RowBytes = 64;

    private long? total;

    public void Forget() => total = null;

    public void Add(Connection connection, RefusalRow row, long vehicle, long position)
    {
        connection.Sql("INSERT INTO refusal(position, vehicle, reason, received, bytes) VALUES(?1, ?2, ?3, ?4, ?5)")
            .Bind(1, position).Bind(2, vehicle).Bind(3, row.Reason.Code).Bind(4, row.Received.UnixMilliseconds).Bind(5, row.Bytes.AsSpan()).Run();
        var all = Total(connection) + Count(connection, vehicle, row.Bytes.Length + RowBytes);
        if (Kept(connection, vehicle) > options.RefusalsPerVehicle) all -= Drop(connection, OldestOf(connection, vehicle));
        while (all > options.RefusalBytes) all -= Drop(connection, Oldest(connection));
        total = all;
    }

    private long Total(Connection connection)
    {
        if (total is { } known) return known;
        return Number(connection.Sql("SELECT coalesce(sum(size), 0) FROM refusal_tally"));
    }

    private static long Count(Connection connection, long vehicle, long size)
    {
        connection.Sql("""
            INSERT INTO refusal_tally(vehicle, kept, size, dropped) VALUES(?1, 1, ?2, 0)
            ON CONFLICT(vehicle) DO UPDATE SET kept = kept + 1, size = size + ?2
            """).Bind(1, vehicle).Bind(2, size).Run();
        return size;
    }

    private static long Kept(Connection connection, long vehicle) =>
        Number(connection.Sql("SELECT kept FROM refusal_tally WHERE vehicle = ?1").Bind(1, vehicle));

    private static long OldestOf(Connection connection, long vehicle) =>
        Number(connection.Sql("SELECT min(position) FROM refusal WHERE vehicle = ?1").Bind(1, vehicle));

    private static long Oldest(Connection connection) => Number(connection.Sql("SELECT min(position) FROM refusal"));

    private static long Drop(Connection connection, long position)
    {
        var drop = connection.Sql("DELETE FROM refusal WHERE position = ?1 RETURNING vehicle, length(bytes)").Bind(1, position);
        if (!drop.Step()) throw new InvalidOperationException("The tally of refusals counts rows that are not there.");
        var vehicle = drop.Long(0);
        var size = drop.Long(1) + RowBytes;
        drop.Run();
        connection.Sql("UPDATE refusal_tally SET kept = kept - 1, size = size - ?2, dropped = dropped + 1 WHERE vehicle = ?1")
            .Bind(1, vehicle).Bind(2, size).Run();
        return size;
    }

    private static long Number(Statement statement)
    {
        statement.Step();
        var number = statement.Long(0);
        statement.Reset();
        return number;
    }
}

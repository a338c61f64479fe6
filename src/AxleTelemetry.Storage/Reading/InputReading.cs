using System.Collections.Immutable;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sealing;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads inputs out of hot rows and sealed blocks alike, inside one read transaction.</summary>
internal static class InputReading
{
    private static readonly IComparer<LoggedInput> ByPosition = Comparer<LoggedInput>.Create((a, b) => a.Position.CompareTo(b.Position));
    private static readonly IComparer<LoggedInput> ByPlace = Comparer<LoggedInput>.Create((a, b) => InputPlace.Of(a).CompareTo(InputPlace.Of(b)));

    public static ImmutableArray<LoggedInput> After(Connection connection, Position after, int limit)
    {
        var page = new BoundedPage(limit, ByPosition);
        var hot = connection.Sql($"""
            SELECT {HotInputs.Columns}, fleet, name FROM input JOIN vehicle ON vehicle.id = vehicle WHERE position > ?1 ORDER BY position LIMIT ?2
            """).Bind(1, after.Stored).Bind(2, limit);
        while (hot.Step()) page.Add(HotInputs.Current(hot, new VehicleKey(hot.Text(7), hot.Text(8))));
        var blocks = connection.Sql("""
            SELECT fleet, name, bytes, size, sha256, first FROM block JOIN vehicle ON vehicle.id = vehicle WHERE last > ?1 ORDER BY first
            """).Bind(1, after.Stored);
        while (blocks.Step() && !(page.IsFull && blocks.Long(5) > page.Last.Position.Stored))
        {
            foreach (var input in Opened(blocks, new VehicleKey(blocks.Text(0), blocks.Text(1)), 2))
            {
                if (input.Position > after) page.Add(input);
            }
        }

        blocks.Reset();
        return page.ToPage();
    }

    public static ImmutableArray<LoggedInput> Between(Connection connection, InputQuery query, long vehicle)
    {
        var page = new BoundedPage(query.Limit, ByPlace);
        var hot = connection.Sql($"""
            SELECT {HotInputs.Columns} FROM input WHERE vehicle = ?1 AND least <= ?2 AND greatest >= ?3 AND (least, position) > (?4, ?5)
                AND (?7 OR kind = ?8)
            ORDER BY least, position LIMIT ?6
            """).Bind(1, vehicle).Bind(2, query.Samples.Greatest.UnixMilliseconds).Bind(3, query.Samples.Least.UnixMilliseconds)
            .Bind(4, query.After.Least.UnixMilliseconds).Bind(5, query.After.Position.Stored).Bind(6, query.Limit)
            .Bind(7, query.Kind is null ? 1 : 0).Bind(8, query.Kind?.Code ?? 0);
        while (hot.Step()) page.Add(HotInputs.Current(hot, query.Vehicle));
        var blocks = connection.Sql("""
            SELECT bytes, size, sha256, hour FROM block WHERE vehicle = ?1 AND least <= ?2 AND greatest >= ?3 AND hour >= ?4 AND kinds & ?5 <> 0 ORDER BY hour
            """).Bind(1, vehicle).Bind(2, query.Samples.Greatest.UnixMilliseconds).Bind(3, query.Samples.Least.UnixMilliseconds)
            .Bind(4, Sealer.HourOf(query.After.Least)).Bind(5, query.Kind is { } kind ? KindSet.Of(kind) : KindSet.All);
        while (blocks.Step() && !(page.IsFull && blocks.Long(3) > Sealer.HourOf(page.Last.Row.Samples.Least)))
        {
            foreach (var input in Opened(blocks, query.Vehicle, 0))
            {
                if (IsAskedFor(query, input)) page.Add(input);
            }
        }

        blocks.Reset();
        return page.ToPage();
    }

    /// <summary>The last taken of a kind: of hot rows, then of those blocks that hold the kind and something later than what was found.</summary>
    public static LoggedInput? Last(Connection connection, (VehicleKey Key, long Number) vehicle, RowKind kind)
    {
        var hot = connection.Sql($"""
            SELECT {HotInputs.Columns} FROM input INDEXED BY input_time WHERE vehicle = ?1 AND kind = ?2 ORDER BY position DESC LIMIT 1
            """).Bind(1, vehicle.Number).Bind(2, kind.Code);
        var last = hot.Step() ? HotInputs.Current(hot, vehicle.Key) : null;
        hot.Reset();
        foreach (var kinds in KindSet.InBlocks(connection, vehicle.Number))
        {
            if ((kinds & KindSet.Of(kind)) == 0) continue;
            var blocks = connection.Sql("SELECT bytes, size, sha256, last FROM block INDEXED BY block_kinds WHERE vehicle = ?1 AND kinds = ?2 ORDER BY last DESC")
                .Bind(1, vehicle.Number).Bind(2, kinds);
            while (blocks.Step() && (last is null || blocks.Long(3) > last.Position.Stored))
            {
                last = Opened(blocks, vehicle.Key, 0).Append(last).Where(i => i?.Row.Kind == kind).MaxBy(i => i!.Position);
            }

            blocks.Reset();
        }

        return last;
    }

    private static bool IsAskedFor(InputQuery query, LoggedInput input) => input.Row.Samples.Meets(query.Samples)
        && InputPlace.Of(input) > query.After && (query.Kind is not { } kind || input.Row.Kind == kind);

    private static ImmutableArray<LoggedInput> Opened(Statement blocks, VehicleKey vehicle, int column) =>
        Block.Open(vehicle, blocks.Blob(column), blocks.Int(column + 1), blocks.Blob(column + 2));
}

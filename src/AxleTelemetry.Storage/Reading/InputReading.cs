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
            ORDER BY least, position LIMIT ?6
            """).Bind(1, vehicle).Bind(2, query.Samples.Greatest.UnixMilliseconds).Bind(3, query.Samples.Least.UnixMilliseconds)
            .Bind(4, query.After.Least.UnixMilliseconds).Bind(5, query.After.Position.Stored).Bind(6, query.Limit);
        while (hot.Step()) page.Add(HotInputs.Current(hot, query.Vehicle));
        var blocks = connection.Sql("""
            SELECT bytes, size, sha256, hour FROM block WHERE vehicle = ?1 AND least <= ?2 AND greatest >= ?3 AND hour >= ?4 ORDER BY hour
            """).Bind(1, vehicle).Bind(2, query.Samples.Greatest.UnixMilliseconds).Bind(3, query.Samples.Least.UnixMilliseconds)
            .Bind(4, Sealer.HourOf(query.After.Least));
        while (blocks.Step() && !(page.IsFull && blocks.Long(3) > Sealer.HourOf(page.Last.Row.Samples.Least)))
        {
            foreach (var input in Opened(blocks, query.Vehicle, 0))
            {
                if (input.Row.Samples.Meets(query.Samples) && InputPlace.Of(input) > query.After) page.Add(input);
            }
        }

        blocks.Reset();
        return page.ToPage();
    }

    private static ImmutableArray<LoggedInput> Opened(Statement blocks, VehicleKey vehicle, int column) =>
        Block.Open(vehicle, blocks.Blob(column), blocks.Int(column + 1), blocks.Blob(column + 2));
}

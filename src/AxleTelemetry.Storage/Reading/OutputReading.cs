using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads history and telling, inside one read transaction.</summary>
internal static class OutputReading
{
    public static ImmutableArray<KeptHistory> InForce(Connection connection, HistoryQuery query, long vehicle)
    {
        var after = query.After ?? (new Moment(long.MinValue), string.Empty);
        var read = connection.Sql("""
            SELECT position, t, key, aside, bytes FROM history
            WHERE vehicle = ?1 AND kind = ?2 AND t >= ?3 AND t <= ?4 AND (t, key) > (?5, ?6) AND bytes IS NOT NULL ORDER BY t, key LIMIT ?7
            """).Bind(1, vehicle).Bind(2, query.Kind.Code).Bind(3, query.Times.Least.UnixMilliseconds).Bind(4, query.Times.Greatest.UnixMilliseconds)
            .Bind(5, after.Item1.UnixMilliseconds).Bind(6, after.Item2).Bind(7, query.Limit);
        var rows = ImmutableArray.CreateBuilder<KeptHistory>();
        while (read.Step())
        {
            var key = new HistoryKey(query.Vehicle, query.Kind, new Moment(read.Long(1)), read.Text(2));
            rows.Add(new KeptHistory(Position.FromStored(read.Long(0)), new HistoryRow.Put(key, HotInputs.Copy(read, 4)) { Aside = HotInputs.Copy(read, 3) }));
        }

        return rows.ToImmutable();
    }

    /// <summary>Changes of both sorts in order of position: the first of each, merged and cut.</summary>
    public static ImmutableArray<OutputChange> Changes(Connection connection, Position after, int limit)
    {
        var changes = HistoryChanges(connection, after, limit);
        changes.AddRange(Told(connection, after, limit).Select(t => new OutputChange.Told(t.Position, t.Row)));
        return [.. changes.OrderBy(c => c.Position).Take(limit)];
    }

    public static ImmutableArray<(Position Position, TellingRow Row)> Told(Connection connection, Position after, int limit)
    {
        var read = connection.Sql("""
            SELECT position, fleet, name, kind, key, at, bytes FROM telling JOIN vehicle ON vehicle.id = vehicle WHERE position > ?1 ORDER BY position LIMIT ?2
            """).Bind(1, after.Stored).Bind(2, limit);
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

    private static List<OutputChange> HistoryChanges(Connection connection, Position after, int limit)
    {
        var read = connection.Sql("""
            SELECT position, fleet, name, kind, t, key, aside, bytes FROM history JOIN vehicle ON vehicle.id = vehicle
            WHERE position > ?1 ORDER BY position LIMIT ?2
            """).Bind(1, after.Stored).Bind(2, limit);
        var changes = new List<OutputChange>();
        while (read.Step())
        {
            var key = new HistoryKey(new VehicleKey(read.Text(1), read.Text(2)), new RowKind(read.Int(3)), new Moment(read.Long(4)), read.Text(5));
            HistoryRow row = read.IsNull(7) ? new HistoryRow.Void(key) : new HistoryRow.Put(key, HotInputs.Copy(read, 7)) { Aside = HotInputs.Copy(read, 6) };
            changes.Add(new OutputChange.History(Position.FromStored(read.Long(0)), row));
        }

        return changes;
    }
}

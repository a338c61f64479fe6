using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Keeping;

/// <summary>Takes outputs that are old, and void rows that every cursor has passed. What a cursor had not seen is counted on it.</summary>
internal static class OutputRetention
{
    public static SweepStep Voids(Connection connection, RetentionPlan plan)
    {
        var deleted = connection.Sql("""
            DELETE FROM history WHERE (vehicle, kind, t, key) IN
                (SELECT vehicle, kind, t, key FROM history WHERE bytes IS NULL AND position <= ?1 ORDER BY position LIMIT ?2)
            """).Bind(1, plan.Pins.SlowestCursor.Stored).Bind(2, RetentionSweep.StepRows).Run();
        return Step(deleted);
    }

    public static SweepStep Telling(Connection connection, RetentionPlan plan)
    {
        var read = connection.Sql("SELECT position, at FROM telling ORDER BY position LIMIT ?1").Bind(1, RetentionSweep.StepRows);
        var gone = new List<long>();
        while (read.Step() && read.Long(1) < plan.TellingBefore.UnixMilliseconds) gone.Add(read.Long(0));
        read.Reset();
        foreach (var position in gone) connection.Sql("DELETE FROM telling WHERE position = ?1").Bind(1, position).Run();
        CountMissed(connection, gone);
        return Step(gone.Count);
    }

    /// <summary>One vehicle at a time, all kinds: rows are keyed by vehicle first.</summary>
    public static SweepStep History(Connection connection, RetentionPlan plan, SweepPlace after)
    {
        var vehicle = after;
        while (Next(connection, vehicle) is { } number)
        {
            foreach (var (kind, before) in plan.HistoryBefore)
            {
                var gone = Delete(connection, number, kind, before);
                CountMissed(connection, gone);
                if (gone.Count > 0) return new SweepStep(gone.Count, new SweepPlace(number - 1, 0));
            }

            vehicle = new SweepPlace(number, 0);
        }

        return default;
    }

    private static long? Next(Connection connection, SweepPlace after)
    {
        var read = connection.Sql("SELECT id FROM vehicle WHERE id > ?1 ORDER BY id LIMIT 1").Bind(1, after.Major);
        if (!read.Step()) return null;
        var number = read.Long(0);
        read.Reset();
        return number;
    }

    private static List<long> Delete(Connection connection, long vehicle, RowKind kind, Moment before)
    {
        var delete = connection.Sql("""
            DELETE FROM history WHERE vehicle = ?1 AND kind = ?2 AND (t, key) IN
                (SELECT t, key FROM history WHERE vehicle = ?1 AND kind = ?2 AND t < ?3 ORDER BY t, key LIMIT ?4)
            RETURNING position
            """).Bind(1, vehicle).Bind(2, kind.Code).Bind(3, before.UnixMilliseconds).Bind(4, RetentionSweep.StepRows);
        var gone = new List<long>();
        while (delete.Step()) gone.Add(delete.Long(0));
        return gone;
    }

    private static void CountMissed(Connection connection, List<long> gone)
    {
        if (gone.Count == 0) return;
        var read = connection.Sql("SELECT name, position FROM cursor");
        var behind = new List<(string Name, long Missed)>();
        while (read.Step()) behind.Add((read.Text(0), gone.Count(p => p > read.Long(1))));
        foreach (var (name, missed) in behind.Where(b => b.Missed > 0))
        {
            connection.Sql("UPDATE cursor SET missed = missed + ?2, missed_in_all = missed_in_all + ?2 WHERE name = ?1").Bind(1, name).Bind(2, missed).Run();
        }
    }

    private static SweepStep Step(int deleted) => new(deleted, deleted == RetentionSweep.StepRows ? SweepPlace.Start : null);
}

using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads history and its changes, inside one read transaction.</summary>
internal static class OutputReading
{
    public static ImmutableArray<KeptHistory> InForce(Connection connection, HistoryQuery query, long vehicle)
    {
        var after = query.After ?? (new Moment(long.MinValue), string.Empty);
        var read = connection.Sql($"""
            SELECT t, key, {HistoryColumns.All} FROM history
            WHERE vehicle = ?1 AND kind = ?2 AND t >= ?3 AND t <= ?4 AND (t, key) > (?5, ?6) AND bytes IS NOT NULL ORDER BY t, key LIMIT ?7
            """).Bind(1, vehicle).Bind(2, query.Kind.Code).Bind(3, Math.Max(query.Times.Least.UnixMilliseconds, after.Item1.UnixMilliseconds))
            .Bind(4, query.Times.Greatest.UnixMilliseconds).Bind(5, after.Item1.UnixMilliseconds).Bind(6, after.Item2).Bind(7, query.Limit);
        var rows = ImmutableArray.CreateBuilder<KeptHistory>();
        while (read.Step()) rows.Add(HistoryColumns.Kept(read, 2, new HistoryKey(query.Vehicle, query.Kind, new Moment(read.Long(0)), read.Text(1))));
        return rows.ToImmutable();
    }

    /// <summary>Changes of both sorts in order of position: the first of each, merged and cut.</summary>
    public static ImmutableArray<OutputChange> Changes(Connection connection, Position after, int limit)
    {
        var changes = HistoryChanges(connection, after, limit);
        changes.AddRange(TellingReading.After(connection, after, limit).Select(t => new OutputChange.Told(t.Position, t.Row)));
        return [.. changes.OrderBy(c => c.Position).Take(limit)];
    }

    private static List<OutputChange> HistoryChanges(Connection connection, Position after, int limit)
    {
        var read = connection.Sql($"""
            SELECT fleet, name, kind, t, key, {HistoryColumns.All}, carried FROM history JOIN vehicle ON vehicle.id = vehicle
            WHERE position > ?1 ORDER BY position LIMIT ?2
            """).Bind(1, after.Stored).Bind(2, limit);
        var changes = new List<OutputChange>();
        while (read.Step())
        {
            var key = new HistoryKey(new VehicleKey(read.Text(0), read.Text(1)), new RowKind(read.Int(2)), new Moment(read.Long(3)), read.Text(4));
            changes.Add(new OutputChange.History(Position.FromStored(read.Long(5)), HistoryColumns.Row(read, 5, key)) { Carried = read.IsNull(9) ? [] : Versions(read.Blob(9)) });
        }

        return changes;
    }

    /// <summary>Versions of a row behind one another, each after its length.</summary>
    private static ImmutableArray<ImmutableArray<byte>> Versions(ReadOnlySpan<byte> carried)
    {
        const int Digits = 8;
        var versions = ImmutableArray.CreateBuilder<ImmutableArray<byte>>();
        while (!carried.IsEmpty)
        {
            var length = int.Parse(carried[..Digits], NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            versions.Add([.. carried.Slice(Digits, length)]);
            carried = carried[(Digits + length)..];
        }

        return versions.ToImmutable();
    }
}

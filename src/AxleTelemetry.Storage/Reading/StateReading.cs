using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads what is kept beside inputs and outputs: refusals, checkpoints, marks, cursors.</summary>
internal static class StateReading
{
    public static ImmutableArray<KeptRefusal> Refusals(Connection connection, (VehicleKey Key, long Number) vehicle, Position after, int limit)
    {
        var read = connection.Sql("SELECT position, reason, received, bytes FROM refusal WHERE vehicle = ?1 AND position > ?2 ORDER BY position LIMIT ?3")
            .Bind(1, vehicle.Number).Bind(2, after.Stored).Bind(3, limit);
        var rows = ImmutableArray.CreateBuilder<KeptRefusal>();
        while (read.Step())
        {
            var row = new RefusalRow(vehicle.Key, new RowKind(read.Int(1)), new Moment(read.Long(2)), HotInputs.Copy(read, 3));
            rows.Add(new KeptRefusal(Position.FromStored(read.Long(0)), row));
        }

        return rows.ToImmutable();
    }

    public static RefusalTally Tally(Connection connection, long vehicle)
    {
        var read = connection.Sql("SELECT kept, dropped FROM refusal_tally WHERE vehicle = ?1").Bind(1, vehicle);
        if (!read.Step()) return default;
        var tally = new RefusalTally(read.Long(0), read.Long(1));
        read.Reset();
        return tally;
    }

    public static ImmutableArray<KeptCheckpoint> Checkpoints(Connection connection, VehicleKey? after, int limit)
    {
        var first = after is null;
        var read = connection.Sql("""
            SELECT fleet, name, batch, version, bytes FROM vehicle JOIN checkpoint ON checkpoint.vehicle = vehicle.id
            WHERE ?1 OR (fleet, name) > (?2, ?3) ORDER BY fleet, name LIMIT ?4
            """).Bind(1, first ? 1 : 0).Bind(2, after?.Fleet ?? string.Empty).Bind(3, after?.Vehicle ?? string.Empty).Bind(4, limit);
        var rows = ImmutableArray.CreateBuilder<KeptCheckpoint>();
        while (read.Step())
        {
            rows.Add(new KeptCheckpoint(read.Long(2), new CheckpointRow(new VehicleKey(read.Text(0), read.Text(1)), read.Int(3), HotInputs.Copy(read, 4))));
        }

        return rows.ToImmutable();
    }

    public static ImmutableArray<CorrectionMark.From> Corrections(Connection connection)
    {
        var read = connection.Sql("SELECT fleet, name, since FROM correction JOIN vehicle ON vehicle.id = vehicle ORDER BY since, fleet, name");
        var marks = ImmutableArray.CreateBuilder<CorrectionMark.From>();
        while (read.Step()) marks.Add(new CorrectionMark.From(new VehicleKey(read.Text(0), read.Text(1)), new Moment(read.Long(2))));
        return marks.ToImmutable();
    }

    public static CursorState Cursor(Connection connection, string name)
    {
        var read = connection.Sql("SELECT position, missed, missed_in_all FROM cursor WHERE name = ?1").Bind(1, name);
        if (!read.Step()) return new CursorState.Unknown();
        var (position, missed, inAll) = (Position.FromStored(read.Long(0)), read.Long(1), read.Long(2));
        read.Reset();
        return missed == 0 ? new CursorState.At(position, inAll) : new CursorState.FellBehind(position, missed, inAll);
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads what is kept beside inputs and outputs: vehicles, checkpoints, snapshots, marks, cursors.</summary>
internal static class StateReading
{
    // Kinds are few and come first in the key: each is entered by itself, and the vehicles give the order.
    public static ImmutableArray<KeptCheckpoint> Checkpoints(Connection connection, (VehicleKey Vehicle, RowKind Kind)? after, int limit)
    {
        var read = connection.Sql("""
            WITH RECURSIVE kinds(kind) AS (
                SELECT min(place) >> 32 FROM checkpoint
                UNION ALL SELECT (SELECT min(place) >> 32 FROM checkpoint WHERE place >= (kind + 1) << 32) FROM kinds WHERE kind IS NOT NULL)
            SELECT fleet, name, kind, batch, version, bytes FROM vehicle CROSS JOIN kinds CROSS JOIN checkpoint ON place = (kind << 32) | vehicle.id
            WHERE ?1 OR ((fleet, name) >= (?2, ?3) AND (fleet, name, kind) > (?2, ?3, ?4)) ORDER BY fleet, name, kind LIMIT ?5
            """).Bind(1, after is null ? 1 : 0).Bind(2, after?.Vehicle.Fleet ?? string.Empty).Bind(3, after?.Vehicle.Vehicle ?? string.Empty)
            .Bind(4, after?.Kind.Code ?? 0).Bind(5, limit);
        var rows = ImmutableArray.CreateBuilder<KeptCheckpoint>();
        while (read.Step())
        {
            var row = new CheckpointRow(new VehicleKey(read.Text(0), read.Text(1)), new RowKind(read.Int(2)), read.Int(4), HotInputs.Copy(read, 5));
            rows.Add(new KeptCheckpoint(read.Long(3), row));
        }

        return rows.ToImmutable();
    }

    public static ReadOnlyMemory<byte>? Snapshot(Connection connection, long vehicle, Moment upTo)
    {
        var read = connection.Sql("SELECT size, bytes FROM snapshot WHERE vehicle = ?1 AND upto = ?2").Bind(1, vehicle).Bind(2, upTo.UnixMilliseconds);
        if (!read.Step()) return null;
        var bytes = SnapshotWriter.Unpack(read.Blob(1), read.Int(0));
        read.Reset();
        return bytes;
    }

    public static ImmutableArray<VehicleKey> Vehicles(Connection connection)
    {
        var read = connection.Sql("SELECT fleet, name FROM vehicle WHERE fleet <> '' OR name <> '' ORDER BY fleet, name");
        var vehicles = ImmutableArray.CreateBuilder<VehicleKey>();
        while (read.Step()) vehicles.Add(new VehicleKey(read.Text(0), read.Text(1)));
        return vehicles.ToImmutable();
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

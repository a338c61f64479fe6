using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Keeping;

/// <summary>Takes inputs that are old and not pinned. A block goes whole or stays whole.</summary>
internal static class InputRetention
{
    // A vehicle to be corrected needs its inputs from there on.
    private const string NotMarked = "NOT EXISTS(SELECT 1 FROM correction WHERE correction.vehicle = vehicle.id AND correction.since <= greatest)";

    public static SweepStep Blocks(Connection connection, RetentionPlan plan, SweepPlace after)
    {
        var read = connection.Sql($"""
            SELECT greatest, block.id, fleet, name, least, last, {NotMarked} FROM block JOIN vehicle ON vehicle.id = block.vehicle
            WHERE greatest < ?1 AND (greatest, block.id) > (?2, ?3) ORDER BY greatest, block.id LIMIT ?4
            """).Bind(1, plan.InputsBefore.UnixMilliseconds).Bind(2, after.Major).Bind(3, after.Minor).Bind(4, RetentionSweep.StepRows / 10);
        return Sweep(connection.Sql("DELETE FROM block WHERE id = ?1"), read, plan, RetentionSweep.StepRows / 10);
    }

    public static SweepStep Hot(Connection connection, RetentionPlan plan, SweepPlace after)
    {
        // Hot rows stand in the order received: the first that is young ends the sweep. Old samples received late wait for their block.
        var read = connection.Sql($"""
            SELECT greatest, position, fleet, name, least, position, {NotMarked}, received FROM input JOIN vehicle ON vehicle.id = input.vehicle
            WHERE position > ?1 ORDER BY position LIMIT ?2
            """).Bind(1, after.Minor).Bind(2, RetentionSweep.StepRows);
        return Sweep(connection.Sql("DELETE FROM input WHERE position = ?1"), read, plan, RetentionSweep.StepRows, receivedColumn: 7);
    }

    private static SweepStep Sweep(Statement delete, Statement read, RetentionPlan plan, int limit, int? receivedColumn = null)
    {
        var (looked, next, gone) = (0, SweepPlace.Start, new List<long>());
        while (read.Step())
        {
            if (receivedColumn is { } column && read.Long(column) >= plan.InputsBefore.UnixMilliseconds) break;
            looked++;
            next = new SweepPlace(read.Long(0), read.Long(1));
            var samples = new SampleSpan(new Moment(read.Long(4)), new Moment(read.Long(0)));
            var pinned = read.Long(6) == 0 || plan.Pins.Hold(new VehicleKey(read.Text(2), read.Text(3)), samples, Position.FromStored(read.Long(5)));
            if (!pinned && samples.Greatest < plan.InputsBefore) gone.Add(read.Long(1));
        }

        read.Reset();
        foreach (var id in gone) delete.Bind(1, id).Run();
        return new SweepStep(gone.Count, looked == limit ? next : null);
    }
}

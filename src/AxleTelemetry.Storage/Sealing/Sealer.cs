using System.Security.Cryptography;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Sealing;

/// <summary>
/// Turns inputs of one vehicle and hour into one block, in one transaction: a reader sees them in one form or the other, never in both or
/// neither. The hour is that of the least sample time; what comes later for the same hour makes a further block.
/// </summary>
internal static class Sealer
{
    public const long HourMilliseconds = 3_600_000;

    private const int MostInputs = 4_096;
    private const int MostBytes = 4 << 20;

    /// <summary>How far from the oldest input on a wrong receive time may stand in the way.</summary>
    private const int LookAt = 1_000;

    public static WriteOutcome.Committed Step(Connection connection, Moment receivedBefore)
    {
        if (Oldest(connection, receivedBefore) is not { } found) return new WriteOutcome.Committed(0);
        var inputs = Inputs(connection, found, receivedBefore);
        Insert(connection, found, inputs);
        var delete = connection.Sql("DELETE FROM input WHERE position = ?1");
        foreach (var input in inputs) delete.Bind(1, input.Position.Stored).Run();
        return new WriteOutcome.Committed(inputs.Count) { More = true };
    }

    /// <summary>The hour a moment falls in, counted from 1970.</summary>
    public static long HourOf(Moment moment) => (long)Math.Floor((decimal)moment.UnixMilliseconds / HourMilliseconds);

    private static Hour? Oldest(Connection connection, Moment before)
    {
        var find = connection.Sql("""
            SELECT vehicle, least, fleet, name FROM (SELECT position, vehicle, least, received FROM input ORDER BY position LIMIT ?2)
            JOIN vehicle ON vehicle.id = vehicle WHERE received < ?1 ORDER BY position LIMIT 1
            """).Bind(1, before.UnixMilliseconds).Bind(2, LookAt);
        if (!find.Step()) return null;
        var hour = new Hour(find.Long(0), new VehicleKey(find.Text(2), find.Text(3)), HourOf(new Moment(find.Long(1))));
        find.Reset();
        return hour;
    }

    private static List<LoggedInput> Inputs(Connection connection, Hour hour, Moment before)
    {
        var read = connection.Sql($"""
            SELECT {HotInputs.Columns} FROM input WHERE vehicle = ?1 AND least >= ?2 AND least < ?3 AND received < ?4 ORDER BY position LIMIT ?5
            """).Bind(1, hour.Vehicle).Bind(2, hour.Number * HourMilliseconds).Bind(3, (hour.Number + 1) * HourMilliseconds)
            .Bind(4, before.UnixMilliseconds).Bind(5, MostInputs);
        var inputs = new List<LoggedInput>();
        var bytes = 0L;
        while (bytes < MostBytes && read.Step())
        {
            var input = HotInputs.Current(read, hour.Key);
            inputs.Add(input);
            bytes += input.Row.Bytes.Length;
        }

        read.Reset();
        return inputs;
    }

    private static void Insert(Connection connection, Hour hour, List<LoggedInput> inputs)
    {
        var plain = Block.Pack(inputs);
        connection.Sql("""
            INSERT INTO block(vehicle, hour, first, last, least, greatest, count, size, sha256, bytes, kinds)
            VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)
            """)
            .Bind(1, hour.Vehicle).Bind(2, hour.Number).Bind(3, inputs[0].Position.Stored).Bind(4, inputs[^1].Position.Stored)
            .Bind(5, inputs.Min(i => i.Row.Samples.Least).UnixMilliseconds).Bind(6, inputs.Max(i => i.Row.Samples.Greatest).UnixMilliseconds)
            .Bind(7, inputs.Count).Bind(8, plain.Length).Bind(9, SHA256.HashData(plain)).Bind(10, Block.Compress(plain))
            .Bind(11, KindSet.Of(inputs)).Run();
    }

    private readonly record struct Hour(long Vehicle, VehicleKey Key, long Number);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Reads refusals and how many there were.</summary>
internal static class RefusalReading
{
    private const string Select = "SELECT position, fleet, name, reason, received, bytes FROM refusal CROSS JOIN vehicle ON vehicle.id = vehicle WHERE";

    public static ImmutableArray<KeptRefusal> After(Connection connection, long vehicle, (Position After, int Limit) page) =>
        Rows(connection.Sql($"{Select} vehicle = ?1 AND position > ?2 ORDER BY position LIMIT ?3")
            .Bind(1, vehicle).Bind(2, page.After.Stored).Bind(3, page.Limit));

    public static ImmutableArray<KeptRefusal> Newest(Connection connection, RefusalQuery query, long? vehicle) => Rows(vehicle is { } number
        ? connection.Sql($"{Select} vehicle = ?3 AND position < ?1 ORDER BY position DESC LIMIT ?2").Bind(1, query.Before.Stored).Bind(2, query.Limit).Bind(3, number)
        : connection.Sql($"{Select} position < ?1 ORDER BY position DESC LIMIT ?2").Bind(1, query.Before.Stored).Bind(2, query.Limit));

    public static RefusalTally Tally(Connection connection, long vehicle)
    {
        var read = connection.Sql("SELECT kept, dropped FROM refusal_tally WHERE vehicle = ?1").Bind(1, vehicle);
        if (!read.Step()) return default;
        var tally = new RefusalTally(read.Long(0), read.Long(1));
        read.Reset();
        return tally;
    }

    public static ImmutableArray<(VehicleKey Vehicle, RefusalTally Tally)> Tallies(Connection connection)
    {
        var read = connection.Sql("SELECT fleet, name, kept, dropped FROM refusal_tally JOIN vehicle ON vehicle.id = vehicle ORDER BY fleet, name");
        var tallies = ImmutableArray.CreateBuilder<(VehicleKey, RefusalTally)>();
        while (read.Step()) tallies.Add((new VehicleKey(read.Text(0), read.Text(1)), new RefusalTally(read.Long(2), read.Long(3))));
        return tallies.ToImmutable();
    }

    private static ImmutableArray<KeptRefusal> Rows(Statement read)
    {
        var rows = ImmutableArray.CreateBuilder<KeptRefusal>();
        while (read.Step())
        {
            var row = new RefusalRow(new VehicleKey(read.Text(1), read.Text(2)), new RowKind(read.Int(3)), new Moment(read.Long(4)), HotInputs.Copy(read, 5));
            rows.Add(new KeptRefusal(Position.FromStored(read.Long(0)), row));
        }

        return rows.ToImmutable();
    }
}

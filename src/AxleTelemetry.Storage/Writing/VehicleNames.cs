using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Writing;

/// <summary>The small numbers that stand for vehicles in the tables. Forgotten when a transaction did not commit, as it may have made some.</summary>
internal sealed class VehicleNames
{
    private readonly Dictionary<VehicleKey, long> numbers = [];

    public long Number(Connection connection, VehicleKey vehicle)
    {
        if (numbers.TryGetValue(vehicle, out var known)) return known;
        var number = Find(connection, vehicle) ?? Add(connection, vehicle);
        numbers.Add(vehicle, number);
        return number;
    }

    public void Forget() => numbers.Clear();

    public static long? Find(Connection connection, VehicleKey vehicle)
    {
        var find = connection.Sql("SELECT id FROM vehicle WHERE fleet = ?1 AND name = ?2").Bind(1, vehicle.Fleet).Bind(2, vehicle.Vehicle);
        if (!find.Step()) return null;
        var number = find.Long(0);
        find.Reset();
        return number;
    }

    private static long Add(Connection connection, VehicleKey vehicle)
    {
        var add = connection.Sql("INSERT INTO vehicle(fleet, name) VALUES(?1, ?2) RETURNING id").Bind(1, vehicle.Fleet).Bind(2, vehicle.Vehicle);
        add.Step();
        var number = add.Long(0);
        add.Run();
        return number;
    }
}

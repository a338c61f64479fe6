using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class LastInputTests
{
    private static readonly int[] Kinds = [1, 2, 5, 62, 63, 70, -1];

    [Theory]
    [InlineData(1, false)]
    [InlineData(2, false)]
    [InlineData(3, true)]
    [InlineData(4, true)]
    public void The_last_of_a_kind_is_found_hot_or_sealed_and_a_query_by_kind_leaves_the_others_out(int seed, bool kindsUnknown)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(seed);
        for (var number = 1; number <= 25; number++) journal.Commit(new Batch(number) { Inputs = [.. Enumerable.Range(0, random.Next(12)).Select(_ => Anything(random, number))] }).Done();
        using var reader = journal.Reader();
        var all = reader.Inputs(Position.Start, int.MaxValue);
        for (var sealedTo = 0; sealedTo <= 5; sealedTo++)
        {
            foreach (var kind in Kinds.Append(9).Select(k => new RowKind(k)))
            {
                var own = all.Where(i => i.Row.Vehicle == Some.Truck && i.Row.Kind == kind).ToArray();
                Assert.Equal(own.Select(Some.Line).LastOrDefault(), reader.LastInput(Some.Truck, kind) is { } last ? Some.Line(last) : null);
                var read = reader.Inputs(new InputQuery(Some.Truck, Some.Always) { Kind = kind, Limit = int.MaxValue });
                Assert.Equal(own.OrderBy(InputPlace.Of).Select(Some.Line), read.Select(Some.Line));
            }

            Outcomes.Through(() => journal.Seal(Some.At(sealedTo * 3_600)));

            // As in a journal of version 1: blocks do not say which kinds they hold.
            if (!kindsUnknown) continue;
            using var connection = Connection.OpenForWriting(place.Database);
            connection.Run("UPDATE block SET kinds = -1");
        }
    }

    [Fact]
    public void Vehicles_come_by_fleet_and_name_without_the_shard()
    {
        using var place = new Place();
        using var journal = place.Open();
        VehicleKey[] vehicles = [new("south", "A"), Some.Other, VehicleKey.Shard, Some.Truck];
        journal.Commit(new Batch(1) { Inputs = [.. vehicles.Select(v => Some.Input(v, 0))] }).Done();
        using var reader = journal.Reader();
        Assert.Equal([Some.Truck, Some.Other, new("south", "A")], reader.Vehicles());
    }

    private static InputRow Anything(Random random, int number) =>
        Some.Input(random.Next(3) == 0 ? Some.Other : Some.Truck, (number * 600) - random.Next(7_200)) with { Kind = new RowKind(random.GetItems(Kinds, 1)[0]), Received = Some.At(number * 600) };
}

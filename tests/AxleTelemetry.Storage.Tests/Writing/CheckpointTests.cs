using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Writing;

public sealed class CheckpointTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(100)]
    public void Pages_join_by_vehicle_and_kind_and_the_newest_of_each_holds(int limit)
    {
        using var place = new Place();
        using var journal = place.Open();
        var random = new Random(limit);
        var newest = new SortedDictionary<(string, string, int), string>();
        for (var number = 1; number <= 20; number++)
        {
            var rows = Enumerable.Range(0, 5).Select(_ => Row(random)).ToArray();
            journal.Commit(new Batch(number) { Checkpoints = [.. rows] }).Done();
            foreach (var row in rows) newest[(row.Vehicle.Fleet, row.Vehicle.Vehicle, row.Kind.Code)] = $"{number} {Line(row)}";
        }

        using var reader = journal.Reader();
        var read = new List<string>();
        (VehicleKey, RowKind)? after = null;
        while (reader.Checkpoints(after, limit) is { Length: > 0 } page)
        {
            Assert.True(page.Length <= limit);
            read.AddRange(page.Select(c => $"{c.Batch} {Line(c.Row)}"));
            after = (page[^1].Row.Vehicle, page[^1].Row.Kind);
        }

        Assert.Equal(newest.Values, read);
    }

    [Fact]
    public void No_checkpoint_is_no_page()
    {
        using var place = new Place();
        using var journal = place.Open();
        journal.Commit(new Batch(1) { Inputs = [Some.Input(Some.Truck, 0)] }).Done();
        using var reader = journal.Reader();
        Assert.Empty(reader.Checkpoints(null, 10));
    }

    private static CheckpointRow Row(Random random) => new(
        new VehicleKey($"f{random.Next(2)}", $"v{random.Next(4)}"), new RowKind(random.Next(3) * 7), random.Next(9), Some.Bytes(new string('x', random.Next(3_000))));

    private static string Line(CheckpointRow row) => $"{row.Vehicle} {row.Kind.Code} {row.StateVersion} {row.Bytes.Length}";
}

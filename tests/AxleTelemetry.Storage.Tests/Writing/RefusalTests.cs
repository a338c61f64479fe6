using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Storage.Tests.Writing;

public sealed class RefusalTests
{
    [Fact]
    public void Of_a_vehicle_the_newest_are_kept_and_the_dropped_counted()
    {
        using var place = new Place();
        using var journal = place.Open(Place.Plain with { RefusalsPerVehicle = 10 });
        for (var number = 1; number <= 5; number++) journal.Commit(new Batch(number) { Refusals = [.. Enumerable.Range(0, 5).Select(i => Refusal(Some.Truck, $"{number}.{i}"))] }).Done();
        using var reader = journal.Reader();
        Assert.Equal(new RefusalTally(10, 15), reader.RefusalsOf(Some.Truck));
        Assert.Equal(["4.0", "4.1", "4.2", "4.3", "4.4", "5.0", "5.1", "5.2", "5.3", "5.4"], reader.Refusals(Some.Truck, Position.Start, 100).Select(r => Some.Text(r.Row.Bytes)));
    }

    [Fact]
    public void In_all_no_more_bytes_are_kept_than_allowed_through_failures_and_reopening()
    {
        const int each = 936 + 64;
        using var place = new Place();
        var options = Place.Plain with { RefusalBytes = 10 * each };
        for (var number = 1; number <= 8; number++)
        {
            using var journal = place.Open(options);
            var vehicle = number % 2 == 0 ? Some.Truck : Some.Other;
            var batch = new Batch(number) { Refusals = [.. Enumerable.Range(0, 4).Select(i => Refusal(vehicle, new string((char)('a' + number), 936)))] };
            journal.Trace = _ => throw new SqliteException("cut", SQLitePCL.raw.SQLITE_IOERR);
            journal.Commit(batch);
            journal.Trace = null;
            journal.Commit(batch).Done();
        }

        using var last = place.Open(options);
        using var reader = last.Reader();
        Assert.Equal((new RefusalTally(4, 12), new RefusalTally(6, 10)), (reader.RefusalsOf(Some.Other), reader.RefusalsOf(Some.Truck)));
    }

    [Fact]
    public void Over_all_vehicles_or_one_the_newest_come_first_in_pages()
    {
        using var place = new Place();
        using var journal = place.Open(Place.Plain with { RefusalsPerVehicle = 4 });
        for (var number = 1; number <= 10; number++) journal.Commit(new Batch(number) { Refusals = [Refusal(number % 3 == 0 ? Some.Other : Some.Truck, $"{number}")] }).Done();
        using var reader = journal.Reader();
        Assert.Equal("10 9 8 7 6 5 3", Pages(new RefusalQuery { Limit = 3 }));
        Assert.Equal("9 6 3", Pages(new RefusalQuery { Vehicle = Some.Other, Limit = 2 }));
        Assert.Equal("", Pages(new RefusalQuery { Vehicle = new VehicleKey("north", "never") }));
        Assert.Equal([(Some.Truck, new RefusalTally(4, 3)), (Some.Other, new RefusalTally(3, 0))], reader.RefusalTallies());

        string Pages(RefusalQuery query)
        {
            var read = new List<string>();
            for (; reader.Refusals(query) is { Length: > 0 } page; query = query with { Before = page[^1].Position }) read.AddRange(page.Select(r => Some.Text(r.Row.Bytes)));
            return string.Join(' ', read);
        }
    }

    private static RefusalRow Refusal(VehicleKey vehicle, string text) => new(vehicle, new RowKind(5), Some.At(0), Some.Bytes(text));
}

using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Tests.Reading;

public sealed class TellingTests
{
    [Theory]
    [InlineData(null, null, "1 2 3 4 5 6")]
    [InlineData("T-01", null, "1 3 5 6")]
    [InlineData("T-02", null, "2 4")]
    [InlineData(null, "north/T-01/axle/1", "1 3 6")]
    [InlineData(null, "north/T-01/axle/10", "6")]
    [InlineData(null, "north/T-0", "1 2 3 4 5 6")]
    [InlineData("T-02", "north/T-0", "2 4")]
    [InlineData("T-01", "north/T-02", "")]
    [InlineData("T-99", null, "")]
    [InlineData(null, "nothing", "")]
    public void What_was_told_of_a_vehicle_a_key_or_both_comes_in_pages_oldest_first(string? vehicle, string? key, string expected)
    {
        using var place = new Place();
        using var journal = Told(place);
        using var reader = journal.Reader();
        var told = new List<string>();
        VehicleKey? of = vehicle is null ? null : new VehicleKey("north", vehicle);
        for (var after = Position.Start; reader.Told(of, key, after, 2) is { Length: > 0 } page; after = page[^1].Position) told.AddRange(page.Select(t => Some.Text(t.Row.Bytes)));
        Assert.Equal(expected, string.Join(' ', told));
    }

    [Fact]
    public void Paging_back_from_the_end_meets_every_row_newest_first()
    {
        using var place = new Place();
        using var journal = Told(place);
        using var reader = journal.Reader();
        var told = new List<string>();
        for (var before = Position.End; reader.ToldBefore(before, 4) is { Length: > 0 } page; before = page[^1].Position) told.AddRange(page.Select(t => Some.Text(t.Row.Bytes)));
        Assert.Equal("6 5 4 3 2 1", string.Join(' ', told));
    }

    private static Journal Told(Place place)
    {
        var journal = place.Open();
        (VehicleKey Vehicle, string Subject)[] rows = [(Some.Truck, "axle/1"), (Some.Other, "axle/1"), (Some.Truck, "axle/1"), (Some.Other, "axle/1"), (Some.Truck, "axle/2"), (Some.Truck, "axle/10")];
        for (var number = 1; number <= rows.Length; number++)
        {
            var (vehicle, subject) = rows[number - 1];
            var row = new TellingRow(vehicle, Some.Kind, $"{vehicle.Fleet}/{vehicle.Vehicle}/{subject}") { At = Some.At(number), Bytes = Some.Bytes($"{number}") };
            journal.Commit(new Batch(number) { Telling = [row] }).Done();
        }

        return journal;
    }
}

using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.FittedTyres;
using AxleTelemetry.Messages.Tests.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.FittedTyres;

public sealed class TyresCsvTests
{
    private const string Header = "date,event,tyre,vehicle,axle,position,note\n";

    private static readonly VehicleDescription Truck = Examples.Vehicle("rigid-6x2-tag.json");

    private static VehicleDescription? Fleet(string id) => id == Truck.Id ? Truck : null;

    [Fact]
    public void A_file_becomes_a_ledger()
    {
        var ledger = Assert.IsType<TyresOutcome.Read>(TyresCsv.Parse(Header + $"""
            2026-03-01,fitted,T-1,{Truck.Id},drive,left-outer,new
            2026-05-01,rotated,T-1,{Truck.Id},tag,left,

            2026-08-01,removed,T-1,,,,worn
            2026-08-03,retreaded,T-1,,,,
            """, Fleet)).Ledger;
        Assert.Equal("T-1", ledger.On(new(Truck.Id, "drive", TyrePosition.LeftOuter), new DateOnly(2026, 4, 30)));
        Assert.Equal("tag", ledger.WhereWas("T-1", new DateOnly(2026, 5, 1))?.Axle);
        Assert.Null(ledger.WhereWas("T-1", new DateOnly(2026, 8, 1)));
    }

    [Theory]
    [InlineData("tyre;date;event;position;axle;vehicle\nT-1;2026-03-01;fitted;left;steer;RT-01\n")]
    [InlineData("\uFEFFdate\tevent\ttyre\tvehicle\taxle\tposition\r\n2026-03-01\tfitted\tT-1\tRT-01\tsteer\tleft\r\n")]
    public void Columns_may_stand_in_any_order_and_with_other_separators(string text) =>
        Assert.Single(Assert.IsType<TyresOutcome.Read>(TyresCsv.Parse(text)).Ledger.Stays);

    [Fact]
    public void Every_error_comes_back_at_once_with_its_line()
    {
        var problems = Refused($"""
            01.03.2026,fitted,T-1,{Truck.Id},drive,left-outer,
            2026-03-01,mounted,T-1,{Truck.Id},drive,left-outer,
            2026-03-01,fitted,T 1,{Truck.Id},drive,left-outer,
            2026-03-01,fitted,T-1,{Truck.Id},drive,front,
            2026-03-01,fitted,T-1,{Truck.Id},drive,left,
            2026-03-01,fitted,T-1,{Truck.Id},dolly,left,
            2026-03-01,removed,T-1,{Truck.Id},,,
            2026-03-01,removed,T-1
            """);
        Assert.Equal(
            [(2, "date"), (3, "event"), (4, "tyre"), (5, "position"), (6, "position"), (7, "axle"), (8, "vehicle"), (9, "row")],
            problems.Select(p => (p.Line, p.Field)));
    }

    [Fact]
    public void A_vehicle_that_is_not_described_here_is_taken_as_written() => Assert.IsType<TyresOutcome.Read>(TyresCsv.Parse(Header + "2026-03-01,fitted,T-1,RT-99,drive,left,", Fleet));

    [Fact]
    public void What_cannot_have_been_is_told_by_line()
    {
        var problems = Refused($"""
            2026-03-01,fitted,T-1,{Truck.Id},drive,left-outer,

            2026-03-02,fitted,T-2,{Truck.Id},drive,left-outer,
            2026-03-03,removed,T-3,,,,
            """);
        Assert.Equal([(4, "row"), (5, "row")], problems.Select(p => (p.Line, p.Field)));
    }

    [Theory]
    [InlineData("", "header")]
    [InlineData("date,event,tyre,vehicle,axle\n", "header")]
    [InlineData("date,date,event,tyre,vehicle,axle,position\n", "header")]
    [InlineData("date,event,tyre,vehicle,axle,position,depth\n", "header")]
    public void A_header_that_is_not_right_is_told(string text, string field) =>
        Assert.Equal(field, Assert.Single(Assert.IsType<TyresOutcome.Refused>(TyresCsv.Parse(text)).Problems).Field);

    [Fact]
    public void A_file_without_events_is_an_empty_ledger() => Assert.Empty(Assert.IsType<TyresOutcome.Read>(TyresCsv.Parse(Header)).Ledger.Stays);

    private static TyreRowProblem[] Refused(string rows) => [.. Assert.IsType<TyresOutcome.Refused>(TyresCsv.Parse(Header + rows, Fleet)).Problems];
}

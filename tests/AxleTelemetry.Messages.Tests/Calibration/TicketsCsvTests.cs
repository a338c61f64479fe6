using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Calibration;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Calibration;

public sealed class TicketsCsvTests
{
    private const string Header = "weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note\n";

    [Fact]
    public void A_good_file_gives_its_tickets()
    {
        var read = Assert.IsType<TicketsRead>(TicketsCsv.Parse(Header
            + "W1,2026-03-02T06:14:05Z,T-101,drive,512.5,6180,platform,24860,\"half load, dry\"\n"
            + "W1,2026-03-02T07:14:05+01:00,T-101,tag,498,5900,platform,24860,\n"
            + "\n"
            + "W2,2026-03-05T12:00:00.250Z,T-101,drive,702,7950.5,axle,,\n"
            + "W3,2026-03-06T12:00:00Z,T-101,drive,640,7300,dynamic,,\"said \"\"level\"\"\"\n"));
        Assert.Equal(4, read.Tickets.Length);
        var first = read.Tickets[0];
        Assert.Equal(new CircuitId("T-101", "drive"), first.Circuit);
        Assert.Equal(Ticket.FullPlatform("W1", new(1_772_432_045_000), Pressure.FromKilopascals(512.5), (Mass.FromKilograms(6180), Mass.FromKilograms(24860))) with { Note = "half load, dry" }, first.Ticket);
        Assert.Equal(first.Ticket.At, read.Tickets[1].Ticket.At);
        Assert.Equal(7950.5, read.Tickets[2].Ticket.AxleLoad.Kilograms);
        Assert.Equal("said \"level\"", read.Tickets[3].Ticket.Note);
    }

    [Theory]
    [InlineData(";", "\r\n")]
    [InlineData("\t", "\n")]
    public void Separators_line_ends_column_order_and_a_byte_order_mark_do_not_matter(string separator, string end)
    {
        string[] header = ["kpa", "axle_kg", "method", "sensor", "vehicle", "time", "weighing"];
        string[] row = ["512.5", "6180", "axle", "drive", "T-101", "2026-03-02T06:14:05Z", "W1"];
        var read = Assert.IsType<TicketsRead>(TicketsCsv.Parse("\uFEFF" + string.Join(separator, header) + end + string.Join(separator, row) + end));
        Assert.Equal(512.5, Assert.Single(read.Tickets).Ticket.Pressure.Kilopascals);
    }

    [Fact]
    public void Everything_wrong_is_told_at_once_with_line_field_value_and_what_would_be_right()
    {
        var problems = Problems(Header
            + "W1,2026-03-02 06:14,T 101,drive,5l2,6180,platform,,\n"
            + "W2,2026-03-02T06:14:05,T-101,drive,1700,0,bridge,5,\n"
            + "W3,2026-03-02T06:14:05Z,T-101,drive,500\n"
            + ",2026-03-02T06:14:05Z,T-101,,NaN,\"6,180\",axle,,\n"
            + "W5,2026-03-02T06:14:05Z,T-101,drive,500,6180,axle,24000,\n"
            + "W5,2026-03-02T06:14:05Z,T-101,tag,500,6180,axle,25000,\n"
            + "W5,2026-03-02T06:14:05Z,T-101,drive,500,6180,axle,24000,again\n"
            + "W6,2026-03-02T06:14:05Z,T-101,drive,500,6180,axle,6000,\n");
        Assert.Equal(
            [
                (2, "time"), (2, "vehicle"), (2, "kpa"), (2, "gross_kg"),
                (3, "time"), (3, "kpa"), (3, "axle_kg"), (3, "method"),
                (4, "row"),
                (5, "weighing"), (5, "sensor"), (5, "kpa"), (5, "axle_kg"),
                (7, "gross_kg"), (8, "row"),
                (9, "gross_kg"),
            ],
            problems.Select(problem => (problem.Line, problem.Field)));
        Assert.Equal("Line 2, kpa: '5l2' is not right. A number from -5 to 1600 is right, with a point for decimals and nothing between thousands, for example 7480.5.",
            problems.Single(problem => problem is { Line: 2, Field: "kpa" }).ToString());
        Assert.Equal("Line 3, axle_kg: '0' is not right. A number above 0 and at most 40000 is right.", problems.Single(problem => problem is { Line: 3, Field: "axle_kg" }).ToString());
    }

    [Fact]
    public void The_header_is_checked_by_name()
    {
        Assert.Equal(["gros_kg", ""], Problems("weighing,time,vehicle,sensor,kpa,axle_kg,gros_kg\nW1,x,x,x,x,x,x\n").Select(problem => problem.Value));
        Assert.Contains(Problems(Header.Replace("note", "kpa")), problem => problem.Right == "Each column stands once.");
        Assert.Equal("header", Assert.Single(Problems("")).Field);
        Assert.Empty(Assert.IsType<TicketsRead>(TicketsCsv.Parse(Header)).Tickets);
    }

    [Fact]
    public void Size_is_bounded()
    {
        Assert.Equal("file", Assert.Single(Problems(new string('x', TicketsCsv.MostCharacters + 1))).Field);
        Assert.Equal("file", Assert.Single(Problems(Header + string.Concat(Enumerable.Repeat("W,2026-03-02T06:14:05Z,T,d,5,6,axle,,\n", TicketsCsv.MostRows + 1)))).Field);
    }

    [Fact]
    public void No_text_makes_it_throw() => Gen.String[Gen.Char["ab,;\"\n\r\t1.\u00e9"], 0, 200].Sample(text =>
    {
        _ = TicketsCsv.Parse(text);
        _ = TicketsCsv.Parse(Header + text);
    });

    private static IEnumerable<TicketProblem> Problems(string text) => Assert.IsType<TicketsRefused>(TicketsCsv.Parse(text)).Problems;
}

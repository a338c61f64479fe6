using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Calibration;

public sealed class CalibrationHistoryTests
{
    private const double Day = 86400;
    private static readonly CircuitId Drive = new("T-101", "drive");

    private static CalibrationVersion Version(string id, double fromDay, params Ticket[] tickets) => new()
    {
        Circuit = Drive,
        ValidFrom = Weighed.March.Plus(fromDay * Day),
        Fit = Weighed.Fit(tickets) with { Version = id },
        Tickets = [.. tickets],
        AcceptedBy = "technician, after the spring service",
    };

    [Fact]
    public void A_fit_is_named_by_the_day_of_its_last_ticket_and_their_number()
    {
        Assert.Equal("handbook", CalibrationVersion.NameOf([]));
        Assert.Equal("2026-03-02/2", CalibrationVersion.NameOf([Weighed.OnPlatform("W1", 300, 4000), Weighed.OnBridge("W2", 500, 6000)]));
    }

    [Fact]
    public void The_latest_validity_that_has_begun_is_in_force()
    {
        var history = CalibrationHistory.Of(Drive).Accept(Version("one", 0)).Accept(Version("three", 20)).Accept(Version("two", 10));
        Assert.Null(history.At(Weighed.March.Plus(-1)));
        Assert.Equal("one", history.At(Weighed.March)!.Id);
        Assert.Equal("two", history.At(Weighed.March.Plus(10 * Day))!.Id);
        Assert.Equal("two", history.At(Weighed.March.Plus(20 * Day - 1))!.Id);
        Assert.Equal("three", history.At(Weighed.March.Plus(500 * Day))!.Id);
    }

    [Fact]
    public void A_correction_with_the_same_start_replaces_what_it_corrects()
    {
        var before = CalibrationHistory.Of(Drive).Accept(Version("one", 0));
        var after = before.Accept(Version("one-corrected", 0));
        Assert.Equal("one", before.At(Weighed.March)!.Id);
        Assert.Equal("one-corrected", after.At(Weighed.March)!.Id);
    }

    [Fact]
    public void What_would_make_a_citation_ambiguous_is_refused()
    {
        var history = CalibrationHistory.Of(Drive).Accept(Version("one", 0));
        Assert.Throws<ArgumentException>(() => history.Accept(Version("one", 5)));
        Assert.Throws<ArgumentException>(() => history.Accept(Version("two", 5) with { Circuit = new("T-101", "tag") }));
    }

    [Fact]
    public void Age_counts_from_the_middle_of_the_tickets_and_the_handbook_does_not_age()
    {
        var late = Ticket.FullPlatform("B", Weighed.March.Plus(40 * Day), Pressure.FromKilopascals(600), (Mass.FromKilograms(6800), Mass.FromKilograms(26_000)));
        var version = Version("one", 0, Weighed.OnPlatform("A", 400, 4750), late);
        Assert.Equal(Weighed.March.Plus(20 * Day), version.CentreOfTickets);
        Assert.Equal(version.Fit, version.FitAt(Weighed.March));
        Assert.Equal(version.Fit.Aged(1), version.FitAt(Weighed.March.Plus(20 * Day + 365.25 * Day)));
        var handbook = Version("handbook", 0);
        Assert.Null(handbook.CentreOfTickets);
        Assert.Equal(handbook.Fit, handbook.FitAt(Weighed.March.Plus(3000 * Day)));
    }
}

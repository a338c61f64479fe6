using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Tests.Calibration;

public sealed class TicketScreeningTests(ITestOutputHelper output)
{
    private static readonly Ticket[] Good =
    [
        Weighed.OnPlatform("A", 310, 3980), Weighed.OnPlatform("B", 520, 6130), Weighed.OnPlatform("C", 705, 8060),
        Weighed.OnPlatform("D", 640, 7310), Weighed.OnPlatform("E", 420, 5110), Weighed.OnPlatform("F", 760, 8590),
    ];

    [Fact]
    public void Good_tickets_are_left_alone()
    {
        for (var count = 1; count <= Good.Length; count++)
            Assert.All(Weighed.Screen(Good[..count]).Checks, check => Assert.Equal(TicketSuspicion.None, check.Suspicion));
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(6)]
    public void One_ticket_a_tonne_off_is_found_and_no_other(int count)
    {
        for (var bad = 0; bad < count; bad++)
        {
            Ticket[] tickets = [.. Good[..count]];
            tickets[bad] = Weighed.OnPlatform("bad", tickets[bad].Pressure.Kilopascals, tickets[bad].AxleLoad.Kilograms + 1300);
            var suspicious = Weighed.Screen(tickets).Checks.Where(check => check.Suspicion != TicketSuspicion.None);
            Assert.Equal("bad", Assert.Single(suspicious).Ticket.Weighing);
        }
    }

    [Fact]
    public void A_single_ticket_is_held_against_the_handbook()
    {
        var check = Assert.Single(Weighed.Screen(Weighed.OnPlatform("A", 700, 7750 + 2200)).Checks);
        Assert.Equal(TicketSuspicion.HandbookAndOthers, check.Suspicion);
        Assert.Equal(0, check.PredictedFrom);
        Assert.Equal(2200, check.DepartureKilograms, 1e-6);
        // Prior at 700 kPa: offset 150, gain 420, residual 135, ticket 26 kg.
        Assert.Equal(2200 / Math.Sqrt(150 * 150 + 420 * 420 + 135 * 135 + 26 * 26), check.Departures, 1e-9);
        Assert.Null(check.Studentised);
    }

    [Fact]
    public void From_four_tickets_the_plain_line_stands_beside_with_its_outlier_test()
    {
        Assert.Null(Weighed.Screen(Good[..3]).PlainLine);
        Ticket[] tickets = [.. Good, Weighed.OnPlatform("G", 580, 6700), Weighed.OnPlatform("bad", 600, 8700)];
        var screening = Weighed.Screen(tickets);
        var line = Assert.IsType<FittedLine>(screening.PlainLine);
        Assert.Equal(StudentT.Quantile(1 - 0.05 / 16, 5), line.OutlierBound(), 1e-12);
        Assert.True(screening.Checks[^1].Suspicion.HasFlag(TicketSuspicion.TicketsAlone));
    }

    [Fact]
    public void Leverage_lies_between_zero_and_one_and_falls_with_more_tickets()
    {
        var alone = Weighed.Screen(Good[..1]).Checks[0].Leverage;
        var among = Weighed.Screen(Good).Checks[0].Leverage;
        Assert.InRange(alone, 0.3, 1);
        Assert.InRange(among, 0, alone);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(8)]
    public void Honest_sets_are_seldom_suspected_and_a_bad_ticket_is_mostly_found(int count)
    {
        const int draws = 300;
        var seed = 515 + count;
        var random = new Random(seed);
        int falseAlarms = 0, found = 0;
        for (var draw = 0; draw < draws; draw++)
        {
            double gain = 10 * (1 + 0.06 * Gauss(random)), offset = 150 * Gauss(random);
            Ticket[] tickets = [.. Enumerable.Range(0, count).Select(i =>
            {
                var p = 300 + 500 * random.NextDouble();
                return Weighed.OnPlatform($"W{i}", p, 750 + offset + gain * p + 135 * Gauss(random));
            })];
            if (Weighed.Screen(tickets).Checks.Any(check => check.Suspicion != TicketSuspicion.None)) falseAlarms++;
            tickets[0] = Weighed.OnPlatform("bad", tickets[0].Pressure.Kilopascals, tickets[0].AxleLoad.Kilograms + 2000);
            if (Weighed.Screen(tickets).Checks[0].Suspicion != TicketSuspicion.None) found++;
        }
        output.WriteLine(FormattableString.Invariant($"seed {seed}, {count} tickets: {falseAlarms} of {draws} honest sets suspected, {found} of {draws} tickets two tonnes off found"));
        // Two tests at 5 % each over the whole set; 7 % was measured over 1 500 sets.
        Assert.InRange(falseAlarms, 0, 0.12 * draws);
        Assert.InRange(found, count == 1 ? 0.6 * draws : 0.9 * draws, draws);
    }

    [Fact]
    public void A_fit_from_other_tickets_is_refused() => Assert.Throws<ArgumentException>(
        () => TicketScreening.Of(Weighed.Fit(Good[0]), Weighed.Handbook, [.. Good], Weighed.Unsprung));

    private static double Gauss(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

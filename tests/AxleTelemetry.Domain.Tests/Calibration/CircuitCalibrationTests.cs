using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Statistics;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Calibration;

public sealed class CircuitCalibrationTests
{
    /// <summary>The same posterior by other means: 2 x 2 normal equations in closed form and forty times finer steps of sigma.</summary>
    private static (double Offset, double Gain, double OffsetVariance, double GainVariance) Oracle(Ticket[] tickets)
    {
        double weights = 0, a = 0, b = 0, aa = 0, bb = 0;
        for (var lnSigma = Math.Log(5); lnSigma < Math.Log(20_000); lnSigma += 0.0025)
        {
            double sigma = Math.Exp(lnSigma), s11 = 1 / 22_500.0, s12 = 0, s22 = 1 / 0.36, t1 = 0, t2 = 10 / 0.36, log = -4 * lnSigma - Math.Pow(135 / sigma, 2);
            double squares = 100 / 0.36;
            foreach (var ticket in tickets)
            {
                double p = ticket.Pressure.Kilopascals, y = ticket.SprungLoad(Weighed.Unsprung).Kilograms;
                var w = 1 / (sigma * sigma + Math.Pow(ticket.Deviation.Kilograms, 2));
                s11 += w;
                s12 += w * p;
                s22 += w * p * p;
                t1 += w * y;
                t2 += w * p * y;
                squares += w * y * y;
                log += 0.5 * Math.Log(w);
            }
            double det = s11 * s22 - s12 * s12, ma = (s22 * t1 - s12 * t2) / det, mb = (s11 * t2 - s12 * t1) / det;
            var weight = Math.Exp(log - 0.5 * Math.Log(det) - 0.5 * (squares - ma * t1 - mb * t2));
            weights += weight;
            a += weight * ma;
            b += weight * mb;
            aa += weight * (ma * ma + s22 / det);
            bb += weight * (mb * mb + s11 / det);
        }
        return (a / weights, b / weights, aa / weights - a / weights * (a / weights), bb / weights - b / weights * (b / weights));
    }

    [Fact]
    public void Agrees_with_a_fine_integration_by_other_means()
    {
        Ticket[] all =
        [
            Weighed.OnPlatform("A", 310, 3910), Weighed.OnBridge("B", 520, 6180), Weighed.OnPlatform("C", 705, 8120),
            Weighed.OnBridge("D", 640, 7010), Weighed.OnPlatform("E", 420, 5230),
        ];
        for (var count = 1; count <= all.Length; count++)
        {
            var fit = Weighed.Fit(all[..count]);
            var (offset, gain, offsetVariance, gainVariance) = Oracle(all[..count]);
            Assert.Equal(offset, fit.OffsetKilograms, 0.5);
            Assert.Equal(gain, fit.KilogramsPerKilopascal, 1e-3);
            Assert.InRange(fit.OffsetVariance / offsetVariance, 0.997, 1.003);
            Assert.InRange(fit.GainVariance / gainVariance, 0.997, 1.003);
        }
    }

    [Fact]
    public void Many_tickets_outweigh_the_handbook()
    {
        Ticket[] tickets = [.. Enumerable.Range(0, 40).Select(i => Weighed.OnPlatform($"W{i}", 300 + 10 * i, 1050 + 11.5 * (300 + 10 * i) + (i % 2 == 0 ? 40 : -40)))];
        var fit = Weighed.Fit(tickets);
        var plain = Assert.IsType<FittedLine>(Weighed.Screen(tickets).PlainLine);
        Assert.Equal(plain.Slope, fit.KilogramsPerKilopascal, 0.05);
        Assert.InRange(fit.OffsetKilograms - plain.Intercept!.Value, -60, 60);
        Assert.InRange(fit.ResidualKilograms, 30, 60);
    }

    [Fact]
    public void A_ticket_never_widens_the_line_when_it_agrees_and_order_does_not_matter() =>
        Gen.Double[320, 800].Array[1, 6].Sample(pressures =>
        {
            Ticket[] tickets = [.. pressures.Select((p, i) => Weighed.OnPlatform($"W{i}", p, 750 + 10.1 * p))];
            double[] widths = [.. Enumerable.Range(0, tickets.Length + 1).Select(n => Weighed.Fit(tickets[..n]).VarianceAt(500))];
            var turned = Weighed.Fit([.. tickets.Reverse()]);
            return widths.Zip(widths.Skip(1)).All(pair => pair.Second <= pair.First * 1.001)
                && Math.Abs(turned.KilogramsPerKilopascal - Weighed.Fit(tickets).KilogramsPerKilopascal) < 1e-9;
        });

    [Fact]
    public void Rows_of_one_weighing_do_not_average_its_error_away()
    {
        // Four weighings of 3 % average to 1.5 %; four rows of one weighing stay at 3 %, which is 240 kg of 8 t.
        CircuitFit Four(Func<int, string> name) => Weighed.Fit([.. Enumerable.Range(0, 4).Select(i => Ticket.Dynamic(
            name(i), Weighed.March, Pressure.FromKilopascals(725), Mass.FromKilograms(8000)))]);
        double together = Math.Sqrt(Four(_ => "one").VarianceAt(725)), apart = Math.Sqrt(Four(i => $"W{i}").VarianceAt(725));
        Assert.InRange(together, 200, 250);
        Assert.InRange(apart, 100, 140);
    }

    [Fact]
    public void Equal_pressures_and_equal_loads_give_a_fit_without_NaN()
    {
        var fit = Weighed.Fit(Weighed.OnPlatform("A", 500, 5750), Weighed.OnPlatform("B", 500, 5750), Weighed.OnPlatform("C", 500, 5750), Weighed.OnPlatform("D", 500, 5750));
        Assert.True(double.IsFinite(fit.OffsetVariance + fit.GainVariance + fit.Covariance + fit.ResidualKilograms));
        Assert.True(fit.OffsetVariance * fit.GainVariance > fit.Covariance * fit.Covariance);
        var screening = Weighed.Screen(Weighed.OnPlatform("A", 500, 5750), Weighed.OnPlatform("B", 500, 5750), Weighed.OnPlatform("C", 500, 5750), Weighed.OnPlatform("D", 500, 5750));
        Assert.Equal(new NoLine(NoLineReason.EqualAbscissas), screening.PlainLine);
        Assert.All(screening.Checks, check => Assert.Equal(TicketSuspicion.None, check.Suspicion));
    }

    [Fact]
    public void What_cannot_be_fitted_is_named()
    {
        Assert.Equal(NotCalibratedReason.LightTicket, Reason(Weighed.OnPlatform("A", 20, 700)));
        Assert.Equal(NotCalibratedReason.ImplausibleTicket, Reason(Weighed.OnPlatform("A", 4120, 5000)));
        Assert.Equal(NotCalibratedReason.TooManyTickets, Reason([.. Enumerable.Range(0, 501).Select(i => Weighed.OnPlatform($"W{i}", 500, 5750))]));
        var vague = Weighed.Handbook with { GainRelativeDeviation = 3, OffsetDeviationKilograms = 9000 };
        var falling = CircuitCalibration.Fit(vague, [.. Enumerable.Range(0, 9).Select(i => Weighed.OnPlatform($"W{i}", 200 + 50 * i, 9000 - 500 * i))], Weighed.Unsprung, "test");
        Assert.Equal(NotCalibratedReason.GainNotPositive, Assert.IsType<NotCalibrated>(falling).Reason);
        Assert.Throws<ArgumentOutOfRangeException>(() => Ticket.FullPlatform("A", Weighed.March, default, (Mass.FromKilograms(9000), Mass.FromKilograms(8000))));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ticket.Dynamic("A", Weighed.March, default, default));
    }

    [Fact]
    public void Ticket_deviation_follows_the_method()
    {
        // common practice: max(20 kg, 0.1 % of gross), 1.5 %, 3 %.
        Assert.Equal(26, Weighed.OnPlatform("A", 500, 8000).Deviation.Kilograms, 1e-9);
        Assert.Equal(20, Ticket.FullPlatform("A", default, default, (Mass.FromKilograms(4000), Mass.FromKilograms(9000))).Deviation.Kilograms);
        Assert.Equal(120, Weighed.OnBridge("A", 500, 8000).Deviation.Kilograms, 1e-9);
        Assert.Equal(240, Ticket.Dynamic("A", default, default, Mass.FromKilograms(8000)).Deviation.Kilograms, 1e-9);
    }

    private static NotCalibratedReason Reason(params Ticket[] tickets) =>
        Assert.IsType<NotCalibrated>(CircuitCalibration.Fit(Weighed.Handbook, [.. tickets], Weighed.Unsprung, "test")).Reason;
}

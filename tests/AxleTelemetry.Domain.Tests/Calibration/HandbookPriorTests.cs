using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Calibration;

public sealed class HandbookPriorTests
{
    [Fact]
    public void Gain_is_force_over_standard_gravity_times_the_lever()
    {
        // F = p A: 100 kPa on 1 m2 is 100 kN, 10 197.162 kg at 9.80665 m/s2; with the bellows 20 % farther out the axle carries 20 % more.
        Assert.Equal(101.97162129779283, new BellowsGeometry(10_000, 1, 1).KilogramsPerKilopascal, 1e-12);
        Assert.Equal(2 * 0.045 * 1.2 * 1000 / 9.80665, new BellowsGeometry(450, 2, 1.2).KilogramsPerKilopascal, 1e-12);
    }

    [Fact]
    public void The_lever_does_the_same_work_at_the_bellows_as_at_the_axle()
    {
        // Pivot at 0, axle at 0.50 m, bellows at 0.62 m; the arm turns by a milliradian.
        const double pressure = 420, turn = 1e-3;
        var bellows = new BellowsGeometry(500, 2, 0.62 / 0.50);
        var forceOfBellows = pressure * 1000 * 0.05 * 2;
        var workAtBellows = forceOfBellows * 0.62 * turn;
        var workAtAxle = bellows.KilogramsPerKilopascal * pressure * 9.80665 * 0.50 * turn;
        Assert.Equal(workAtBellows, workAtAxle, 1e-9);
    }

    [Fact]
    public void A_handbook_fit_says_its_prior_again()
    {
        var again = HandbookPrior.FromFit(Weighed.Fit(), Mass.FromKilograms(9000));
        Assert.Equal(Weighed.Handbook.KilogramsPerKilopascal, again.KilogramsPerKilopascal, 1e-12);
        Assert.Equal(Weighed.Handbook.GainRelativeDeviation, again.GainRelativeDeviation, 1e-12);
        Assert.Equal(Weighed.Handbook.OffsetDeviationKilograms, again.OffsetDeviationKilograms, 1e-9);
        Assert.Equal(Weighed.Handbook.ResidualKilograms, again.ResidualKilograms, 1e-9);
    }

    [Fact]
    public void Without_tickets_the_fit_is_the_handbook()
    {
        var fit = Weighed.Fit();
        Assert.Equal(10, fit.KilogramsPerKilopascal);
        Assert.Equal(0, fit.OffsetKilograms);
        Assert.Equal(0.6 * 0.6, fit.GainVariance, 1e-12);
        Assert.Equal(150 * 150, fit.OffsetVariance, 1e-9);
        Assert.Equal(0, fit.Covariance);
        Assert.Equal(135, fit.ResidualKilograms, 1e-9);
        Assert.Null(fit.LeastPressure);
        Assert.False(fit.IsExtrapolated(900));
    }

    [Fact]
    public void Numbers_out_of_range_are_refused_by_name()
    {
        Assert.Equal("leverRatio", Assert.Throws<ArgumentOutOfRangeException>(() => new BellowsGeometry(450, 2, 0)).ParamName);
        Assert.Equal("bellowsPerAxle", Assert.Throws<ArgumentOutOfRangeException>(() => new BellowsGeometry(450, 0, 1)).ParamName);
        Assert.Throws<ArgumentOutOfRangeException>(() => new BellowsGeometry(double.NaN, 2, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => HandbookPrior.FromGain(-1, Mass.FromKilograms(9000)));
        Assert.Throws<ArgumentOutOfRangeException>(() => HandbookPrior.FromGain(10, default));
        Assert.Throws<ArgumentOutOfRangeException>(() => Weighed.Handbook with { EarlierTickets = 2 });
        Assert.Throws<ArgumentOutOfRangeException>(() => Weighed.Handbook with { GainRelativeDeviation = double.NaN });
    }
}

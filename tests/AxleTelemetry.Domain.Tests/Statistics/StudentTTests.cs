using AxleTelemetry.Domain.Statistics;
using CsCheck;

namespace AxleTelemetry.Domain.Tests.Statistics;

public sealed class StudentTTests
{
    // weak copy: NIST/SEMATECH e-Handbook table of upper critical values of Student's t, columns 0.05, 0.025, 0.005.
    [Theory]
    [InlineData(1, 6.314, 12.706, 63.657)]
    [InlineData(2, 2.920, 4.303, 9.925)]
    [InlineData(3, 2.353, 3.182, 5.841)]
    [InlineData(4, 2.132, 2.776, 4.604)]
    [InlineData(5, 2.015, 2.571, 4.032)]
    [InlineData(8, 1.860, 2.306, 3.355)]
    [InlineData(10, 1.812, 2.228, 3.169)]
    [InlineData(20, 1.725, 2.086, 2.845)]
    [InlineData(30, 1.697, 2.042, 2.750)]
    [InlineData(60, 1.671, 2.000, 2.660)]
    [InlineData(100, 1.660, 1.984, 2.626)]
    public void Quantile_agrees_with_the_printed_table(double freedom, double at05, double at025, double at005)
    {
        Assert.Equal(at05, StudentT.Quantile(0.95, freedom), 5.1e-4);
        Assert.Equal(at025, StudentT.Quantile(0.975, freedom), 5.1e-4);
        Assert.Equal(at005, StudentT.Quantile(0.995, freedom), 5.1e-4);
    }

    // Upper tails computed with 40-digit arithmetic.
    [Theory]
    [InlineData(0.1, 1.0, 0.468274482569446429)]
    [InlineData(1.0, 1.0, 0.25)]
    [InlineData(2.776, 1.0, 0.110058718725498638)]
    [InlineData(6.0, 1.0, 0.05256845671125343)]
    [InlineData(0.1, 2.0, 0.464732719207070085)]
    [InlineData(1.0, 2.0, 0.211324865405187118)]
    [InlineData(2.776, 2.0, 0.0544818668054135561)]
    [InlineData(6.0, 2.0, 0.0133357366077123855)]
    [InlineData(0.1, 3.0, 0.463326174400402912)]
    [InlineData(1.0, 3.0, 0.195501109477885321)]
    [InlineData(2.776, 3.0, 0.0346105466755250812)]
    [InlineData(6.0, 3.0, 0.0046363574461423337)]
    [InlineData(0.1, 4.0, 0.462577920469726641)]
    [InlineData(1.0, 4.0, 0.186950483150029443)]
    [InlineData(2.776, 4.0, 0.0250113891599882061)]
    [InlineData(6.0, 4.0, 0.00194126852348025521)]
    [InlineData(0.1, 4.5, 0.462322033815342776)]
    [InlineData(1.0, 4.5, 0.184002541940094291)]
    [InlineData(2.776, 4.5, 0.0219378101425390394)]
    [InlineData(6.0, 4.5, 0.00132073790277579118)]
    [InlineData(0.1, 5.0, 0.462115070577330185)]
    [InlineData(1.0, 5.0, 0.181608733824561313)]
    [InlineData(2.776, 5.0, 0.0195433253957116438)]
    [InlineData(6.0, 5.0, 0.000923069144797007213)]
    [InlineData(0.1, 8.0, 0.46140245471529845)]
    [InlineData(1.0, 8.0, 0.173296753543667124)]
    [InlineData(2.776, 8.0, 0.0120363502079268931)]
    [InlineData(6.0, 8.0, 0.000161696610942574478)]
    [InlineData(0.1, 10.0, 0.461160359282204158)]
    [InlineData(1.0, 10.0, 0.170446566151029936)]
    [InlineData(2.776, 10.0, 0.00979230912644789231)]
    [InlineData(6.0, 10.0, 0.0000660544301773928021)]
    [InlineData(0.1, 30.0, 0.460504805895135576)]
    [InlineData(1.0, 30.0, 0.162654307713014946)]
    [InlineData(2.776, 30.0, 0.00469362705035971222)]
    [InlineData(6.0, 30.0, 6.97138438360237135e-7)]
    [InlineData(0.1, 40.1, 0.460421305750694743)]
    [InlineData(1.0, 40.1, 0.161653457893637667)]
    [InlineData(2.776, 40.1, 0.00416138771619613869)]
    [InlineData(6.0, 40.1, 2.34211829214568821e-7)]
    [InlineData(0.1, 120.0, 0.460255599657834919)]
    [InlineData(1.0, 120.0, 0.159661361932210619)]
    [InlineData(2.776, 120.0, 0.00319312577718698508)]
    [InlineData(6.0, 120.0, 1.07415190965302038e-8)]
    [InlineData(0.1, 1000.0, 0.460182184511802063)]
    [InlineData(1.0, 1000.0, 0.158776209042336154)]
    [InlineData(2.776, 1000.0, 0.00280296966810411597)]
    [InlineData(6.0, 1000.0, 1.37768458668873456e-9)]
    [InlineData(0.1, 10000.0, 0.460173165015537447)]
    [InlineData(1.0, 10000.0, 0.158667352165214562)]
    [InlineData(2.776, 10000.0, 0.00275672620914079446)]
    [InlineData(6.0, 10000.0, 1.02080923646130766e-9)]
    public void Cdf_has_the_stated_relative_accuracy(double t, double freedom, double upperTail) =>
        Assert.InRange(Math.Abs(StudentT.Cdf(-t, freedom) / upperTail - 1), 0, 1e-12);

    [Fact]
    public void One_and_two_degrees_of_freedom_agree_with_their_closed_forms()
    {
        foreach (var p in new[] { 1e-9, 1e-4, 0.01, 0.3, 0.5, 0.8, 0.999 })
        {
            var one = -1 / Math.Tan(Math.PI * p);
            var two = (2 * p - 1) / Math.Sqrt(2 * p * (1 - p));
            Assert.Equal(one, StudentT.Quantile(p, 1), 1e-11 * Math.Abs(one) + 1e-15);
            Assert.Equal(two, StudentT.Quantile(p, 2), 1e-11 * Math.Abs(two) + 1e-15);
        }
    }

    [Fact]
    public void Quantile_inverts_the_cdf() =>
        Gen.Select(Gen.Double[-12, -0.01], Gen.Double[0.3, 5000]).Sample((exponent, freedom) =>
        {
            var p = Math.Pow(10, exponent) / 2;
            return Math.Abs(StudentT.Cdf(StudentT.Quantile(p, freedom), freedom) / p - 1) < 1e-10;
        });

    [Fact]
    public void Many_degrees_of_freedom_are_normal()
    {
        Assert.Equal(Normal.Quantile(0.975), StudentT.Quantile(0.975, 1e7), 1e-6);
        Assert.Equal(Normal.Quantile(0.975), StudentT.Quantile(0.975, double.PositiveInfinity));
    }

    [Fact]
    public void What_has_no_value_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.Quantile(0.9, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.Quantile(0.9, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.Quantile(-0.1, 4));
        Assert.Throws<ArgumentOutOfRangeException>(() => StudentT.Cdf(double.NaN, 4));
    }
}

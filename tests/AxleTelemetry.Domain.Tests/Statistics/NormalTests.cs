using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Tests.Statistics;

public sealed class NormalTests
{
    // Reference values computed with 40-digit arithmetic.
    [Theory]
    [InlineData(-37, 5.7255712225245768227e-300)]
    [InlineData(-20, 2.7536241186062336951e-89)]
    [InlineData(-8, 6.2209605742717841235e-16)]
    [InlineData(-5, 2.8665157187919391167e-7)]
    [InlineData(-3, 0.0013498980316300945267)]
    [InlineData(-1, 0.15865525393145705141)]
    [InlineData(-0.3, 0.38208857781104736693)]
    [InlineData(0.2, 0.57925970943910302738)]
    [InlineData(1, 0.84134474606854294859)]
    [InlineData(5, 0.99999971334842812081)]
    public void Cdf_has_the_stated_relative_accuracy(double z, double expected) =>
        Assert.InRange(Math.Abs(Normal.Cdf(z) / expected - 1), 0, z > -9 ? 1e-14 : 1e-13);

    // weak copy: last row (infinite degrees of freedom) of the NIST/SEMATECH e-Handbook table of upper critical values of Student's t.
    [Theory]
    [InlineData(0.10, 1.282)]
    [InlineData(0.05, 1.645)]
    [InlineData(0.025, 1.960)]
    [InlineData(0.01, 2.326)]
    [InlineData(0.005, 2.576)]
    [InlineData(0.001, 3.090)]
    public void Quantile_agrees_with_the_printed_table(double above, double printed)
    {
        Assert.Equal(printed, Normal.Quantile(1 - above), 5e-4);
        Assert.Equal(-printed, Normal.Quantile(above), 5e-4);
    }

    // Reference values computed with 40-digit arithmetic.
    [Theory]
    [InlineData(1e-300, -37.047096299361199237)]
    [InlineData(1e-100, -21.273453560965324295)]
    [InlineData(1e-12, -7.0344838253011319298)]
    [InlineData(1e-5, -4.2648907939228246285)]
    [InlineData(0.001, -3.0902323061678135415)]
    [InlineData(0.025, -1.9599639845400542355)]
    [InlineData(0.1, -1.281551565544600467)]
    [InlineData(0.4, -0.2533471031357997988)]
    public void Quantile_has_the_stated_relative_accuracy(double probability, double expected) =>
        Assert.InRange(Math.Abs(Normal.Quantile(probability) / expected - 1), 0, 2e-15);

    [Fact]
    public void The_ends_are_infinite_and_outside_is_refused()
    {
        Assert.Equal(double.NegativeInfinity, Normal.Quantile(0));
        Assert.Equal(double.PositiveInfinity, Normal.Quantile(1));
        Assert.Equal(0, Normal.Cdf(double.NegativeInfinity));
        Assert.Equal(1, Normal.Cdf(double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => Normal.Quantile(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Normal.Quantile(1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Normal.Cdf(double.NaN));
    }
}

using AxleTelemetry.Domain.RoadWear;

namespace AxleTelemetry.Domain.Tests.RoadWear;

/// <summary>AASHTO Guide 1993, flexible pavements, pt 2.5. The equation, and values of its tables.</summary>
public sealed class AxleEquivalenceTests
{
    private const double Kip = 453.59237;

    private static readonly Pavement Main = new();

    private static readonly Pavement Thin = new() { StructuralNumber = 3 };

    /// <summary>SN 5, single axles (weak copy of the table): within one of the last digit printed, as the copy has some cut and some rounded (4 kip is 0.002097).</summary>
    [Theory]
    [InlineData(4, 0.00209, 0.00001)]
    [InlineData(6, 0.01043, 0.00001)]
    [InlineData(8, 0.0343, 0.0001)]
    [InlineData(10, 0.0877, 0.0001)]
    [InlineData(12, 0.189, 0.001)]
    [InlineData(13, 0.264, 0.001)]
    [InlineData(18, 1, 1e-12)]
    public void Single_axles_as_in_the_table(double kip, double printed, double digit) =>
        Assert.Equal(printed, AxleEquivalence.Aashto(kip * Kip, 1, Main), digit);

    /// <summary>SN 5, tandem (weak copy), likewise.</summary>
    [Theory]
    [InlineData(10, 0.00688, 0.00001)]
    [InlineData(12, 0.0144, 0.0001)]
    [InlineData(13, 0.0199, 0.0001)]
    public void Tandems_as_in_the_table(double kip, double printed, double digit) =>
        Assert.Equal(printed, AxleEquivalence.Aashto(kip * Kip, 2, Main), digit);

    /// <summary>SN 3 (published).</summary>
    [Theory]
    [InlineData(10, 1, 0.118, 0.0005)]
    [InlineData(30, 1, 7.9, 0.05)]
    [InlineData(30, 2, 0.703, 0.0005)]
    public void A_thin_road_as_published(double kip, int axles, double printed, double digit) =>
        Assert.Equal(printed, AxleEquivalence.Aashto(kip * Kip, axles, Thin), digit);

    /// <summary>Printed sums of whole vehicles, SN 5, each within 3 % (weak copy).</summary>
    [Fact]
    public void Vehicles_within_three_percent_of_the_printed_sums()
    {
        Within(1.1175, Of(14, 1) + Of(31, 2));
        Within(3.718, Of(10, 1) + Of(32, 2) + Of(43, 2));
        Within(2.1735, Of(18, 1) + Of(22.5, 2) + Of(33, 2));
    }

    /// <summary>Common practice: five times the load is 625 times the wear, and 7.5 t on 8.16 t is 0.7136.</summary>
    [Fact]
    public void The_fourth_power_is_a_fourth_power()
    {
        Assert.Equal(625, AxleEquivalence.FourthPower(5_000, 1_000), 9);
        Assert.Equal(0.7136, AxleEquivalence.FourthPower(7_500), 4);
    }

    [Fact]
    public void Without_load_there_is_no_wear()
    {
        Assert.Equal(0, AxleEquivalence.Aashto(-5, 1, Main));
        Assert.Equal(0, AxleEquivalence.FourthPower(-5));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    public void The_equation_knows_one_to_three_axles(int axles) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => AxleEquivalence.Aashto(10_000, axles, Main));

    private static double Of(double kip, int axles) => AxleEquivalence.Aashto(kip * Kip, axles, Main);

    private static void Within(double printed, double found) => Assert.InRange(found, 0.97 * printed, 1.03 * printed);
}

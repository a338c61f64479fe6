using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Limits;

public sealed class SeriousnessTests
{
    // Source: Regulation (EU) 2016/403, Annex I, group 4. Mark: published.
    [Theory]
    [InlineData(18_000, OverweightBand.None)]
    [InlineData(18_899, OverweightBand.None)]
    [InlineData(18_900, OverweightBand.Serious)]
    [InlineData(19_799, OverweightBand.Serious)]
    [InlineData(19_800, OverweightBand.VerySerious)]
    [InlineData(21_599, OverweightBand.VerySerious)]
    [InlineData(21_600, OverweightBand.MostSerious)]
    public void Published_bands_of_N3(double load, OverweightBand band) =>
        Assert.Equal(new Seriousness(band, false), Seriousness.OfGross(Kg(load), Kg(18_000), Kg(18_000)));

    // Same source and mark; N2: 5, 15 and 25 % over a 12 t limit.
    [Theory]
    [InlineData(12_599, OverweightBand.None)]
    [InlineData(12_600, OverweightBand.Serious)]
    [InlineData(13_799, OverweightBand.Serious)]
    [InlineData(13_800, OverweightBand.VerySerious)]
    [InlineData(14_999, OverweightBand.VerySerious)]
    [InlineData(15_000, OverweightBand.MostSerious)]
    public void Published_bands_of_N2_up_to_and_including_12_t(double load, OverweightBand band) =>
        Assert.Equal(band, Seriousness.OfGross(Kg(load), Kg(12_000), Kg(12_000)).Band);

    [Fact]
    public void Bands_of_an_axle_are_a_house_rule_and_say_so()
    {
        var axle = Seriousness.OfAxle(Kg(12_650), Kg(11_500), Kg(18_000));
        Assert.Equal(OverweightBand.VerySerious, axle.Band);
        Assert.True(axle.IsHouseRule);
        Assert.Contains("house rule", axle.Text, StringComparison.Ordinal);
        Assert.StartsWith("band it would fall in", axle.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Up_to_3_5_t_there_is_no_band() =>
        Assert.Equal(OverweightBand.None, Seriousness.OfGross(Kg(5_000), Kg(3_500), Kg(3_500)).Band);

    private static Mass Kg(double kilograms) => Mass.FromKilograms(kilograms);
}

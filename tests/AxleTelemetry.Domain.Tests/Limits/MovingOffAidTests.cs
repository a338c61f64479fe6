using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>Source: Implementing Regulation (EU) 2021/535, Annex XIII. Mark: published.</summary>
public sealed class MovingOffAidTests
{
    [Theory]
    [InlineData(0.30, 14_950)]
    [InlineData(0.50, 14_950)]
    [InlineData(0.10, 12_650)]
    [InlineData(0.00, 11_500)]
    public void Published_at_most_30_percent_over_11_5_t_and_never_over_the_makers_value(double stated, double kilograms) =>
        Assert.Equal(kilograms, MovingOffAid.Ceiling(Kg(11_500), stated).Kilograms, 9);

    [Theory]
    [InlineData(14_950, 1_000, 8.3, true)]
    [InlineData(14_951, 1_000, 8.3, false)]
    [InlineData(14_950, 0, 8.3, false)]
    [InlineData(14_950, 1_000, 30 / 3.6, false)]
    public void Published_front_load_left_and_ended_before_30_km_h(double driving, double front, double speed, bool covered) =>
        Assert.Equal(covered, MovingOffAid.Covers(Kg(driving), Kg(front), Kg(14_950), speed));

    private static Mass Kg(double kilograms) => Mass.FromKilograms(kilograms);
}

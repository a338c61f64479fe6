using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Domain.Tests.Running;

public sealed class TyreLabelTests
{
    /// <summary>Regulation (EU) 2020/740, class C3, N/kN (published).</summary>
    [Theory]
    [InlineData(0.1, TyreClass.A)]
    [InlineData(4.0, TyreClass.A)]
    [InlineData(4.1, TyreClass.B)]
    [InlineData(5.0, TyreClass.B)]
    [InlineData(5.1, TyreClass.C)]
    [InlineData(6.0, TyreClass.C)]
    [InlineData(6.1, TyreClass.D)]
    [InlineData(7.0, TyreClass.D)]
    [InlineData(7.1, TyreClass.E)]
    [InlineData(20, TyreClass.E)]
    public void Classes_of_the_label(double coefficient, TyreClass expected) => Assert.Equal(expected, TyreLabel.Of(coefficient));

    [Theory]
    [InlineData(4.04, TyreClass.A)]
    [InlineData(4.05, TyreClass.B)]
    public void The_label_knows_one_decimal(double coefficient, TyreClass expected) => Assert.Equal(expected, TyreLabel.Of(coefficient));

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void What_cannot_be_has_no_class(double coefficient) => Assert.Throws<ArgumentOutOfRangeException>(() => TyreLabel.Of(coefficient));
}

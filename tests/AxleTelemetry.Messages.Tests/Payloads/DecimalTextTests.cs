using System.Globalization;
using System.Text;
using AxleTelemetry.Messages.Payloads;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class DecimalTextTests
{
    [Fact]
    public void What_is_read_is_the_nearest_double_to_the_bit() =>
        Gen.Select(Gen.Long[-999_999_999_999_999, 999_999_999_999_999], Gen.Int[0, 14]).Sample((whole, decimals) =>
        {
            var text = Decimal(whole, decimals);
            if (!DecimalText.TryRead(Encoding.ASCII.GetBytes(text), out var value)) return text.Count(char.IsAsciiDigit) > 15;
            var nearest = double.Parse(text, CultureInfo.InvariantCulture) + 0.0;
            return BitConverter.DoubleToInt64Bits(nearest) == BitConverter.DoubleToInt64Bits(value);
        });

    [Theory]
    [InlineData("0", 0)]
    [InlineData("-0", 0)]
    [InlineData("412.5", 412.5)]
    [InlineData("-5", -5)]
    [InlineData("999999999999999", 999999999999999)]
    public void Plain_numbers_are_read(string text, double value)
    {
        Assert.True(DecimalText.TryRead(Encoding.ASCII.GetBytes(text), out var read));
        Assert.Equal(BitConverter.DoubleToInt64Bits(value), BitConverter.DoubleToInt64Bits(read));
    }

    [Theory]
    [InlineData("1000000000000000")]
    [InlineData("0.1234567890123456")]
    [InlineData("1e3")]
    [InlineData("1E-3")]
    [InlineData("4.9e-324")]
    [InlineData("-")]
    [InlineData("")]
    public void Longer_ones_are_left_to_the_slow_way(string text) => Assert.False(DecimalText.TryRead(Encoding.ASCII.GetBytes(text), out _));

    private static string Decimal(long whole, int decimals)
    {
        var digits = Math.Abs(whole).ToString(CultureInfo.InvariantCulture).PadLeft(decimals + 1, '0');
        var sign = whole < 0 ? "-" : "";
        return decimals == 0 ? sign + digits : $"{sign}{digits[..^decimals]}.{digits[^decimals..]}";
    }
}

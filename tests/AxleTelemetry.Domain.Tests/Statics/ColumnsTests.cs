using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>Four neighbours at a time give the same bits as one after another, whatever is left over.</summary>
public sealed class ColumnsTests
{
    private readonly SeededRandom _random = new(17);

    [Fact]
    public void Rows_added_four_elements_at_a_time_are_rows_added_one_by_one()
    {
        for (var length = 0; length <= 21; length++)
            foreach (var rows in (int[])[0, 2, 4, 6])
                foreach (var sign in (double[])[1, -1])
                {
                    var (from, factors, added, to) = (Drawn(length), Drawn(rows), Drawn(rows * length), new double[length]);
                    Columns.AddRows(to, from, sign, factors, added);
                    for (var e = 0; e < length; e++)
                    {
                        var expected = from[e];
                        for (var k = 0; k < rows; k++) expected += sign * factors[k] * added[k * length + e];
                        Assert.Equal(BitConverter.DoubleToInt64Bits(expected), BitConverter.DoubleToInt64Bits(to[e]));
                    }
                }
    }

    [Fact]
    public void A_sum_of_products_runs_in_four_sums_and_the_rest_in_the_first()
    {
        for (var length = 0; length <= 21; length++)
        {
            var (a, b, sums) = (Drawn(length), Drawn(length), new double[4]);
            var whole = length / 4 * 4;
            for (var e = 0; e < whole; e++) sums[e % 4] += a[e] * b[e];
            for (var e = whole; e < length; e++) sums[0] += a[e] * b[e];
            var expected = sums[0] + sums[1] + (sums[2] + sums[3]);
            Assert.Equal(BitConverter.DoubleToInt64Bits(expected), BitConverter.DoubleToInt64Bits(Columns.Dot(a, b)));
        }
    }

    private double[] Drawn(int length) => [.. Enumerable.Range(0, length).Select(_ => _random.Normal(1000))];
}

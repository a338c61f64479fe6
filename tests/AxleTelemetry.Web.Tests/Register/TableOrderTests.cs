using AxleTelemetry.Web.Look;

namespace AxleTelemetry.Web.Tests.Register;

public sealed class TableOrderTests
{
    private static readonly TableOrder<(string Name, double? Peak)> Order = new([new("name", r => r.Name), new("peak", r => r.Peak, IsGreatestFirst: true)]);

    private static readonly (string Name, double? Peak)[] Rows = [("b", 2), ("A", null), ("c", 10), ("d", 2)];

    [Theory]
    [InlineData(null, "Abcd")]
    [InlineData("-name", "dcbA")]
    [InlineData("peak", "bdcA")]
    [InlineData("-peak", "cbdA")]
    public void Rows_stand_by_value_alike_ones_as_they_stood_and_what_has_none_last(string? asked, string names) =>
        Assert.Equal(names, string.Concat(Order.Of(Rows, Order.Read(asked)!).Select(r => r.Name)));

    [Theory]
    [InlineData("size")]
    [InlineData("--peak")]
    [InlineData("-")]
    [InlineData("Peak")]
    public void An_order_that_there_is_not_is_none(string asked) => Assert.Null(Order.Read(asked));

    [Fact]
    public void A_press_asks_for_what_one_looks_for_first_and_then_for_the_other_way_round()
    {
        var first = Order.Next(Order.Usual, "peak");
        Assert.Equal(("-peak", "-peak"), (first.ToString(), Order.Address(first)));
        Assert.Equal("peak", Order.Next(first, "peak").ToString());
        Assert.Equal("-name", Order.Next(Order.Usual, "name").ToString());
        Assert.Null(Order.Address(Order.Next(first, "name")));
    }
}

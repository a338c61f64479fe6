using System.Text;
using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class BootIdTests
{
    [Theory]
    [InlineData("0")]
    [InlineData("5f2c")]
    [InlineData("~!0123456789ABC~")]
    public void It_keeps_its_characters(string text) => Assert.Equal(text, BootId.From(Encoding.ASCII.GetBytes(text)).ToString());

    [Fact]
    public void Ids_that_differ_are_not_equal()
    {
        Assert.NotEqual(BootId.From("a"u8), BootId.From("aa"u8));
        Assert.NotEqual(BootId.From("0"u8), BootId.From("00"u8));
        Assert.Equal(BootId.From("ab"u8), BootId.From("ab"u8));
    }
}

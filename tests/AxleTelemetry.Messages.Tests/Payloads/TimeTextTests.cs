using System.Globalization;
using System.Text;
using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class TimeTextTests
{
    [Theory]
    // RFC 3339 section 5.8, published: these two are the examples there that lie in UTC and after 1970.
    [InlineData("1985-04-12T23:20:50.52Z", 482_196_050_520)]
    [InlineData("1990-12-31T23:59:60Z", 662_688_000_000)]
    // Seconds of the Unix epoch, common practice.
    [InlineData("1970-01-01T00:00:00Z", 0)]
    [InlineData("2000-02-29T00:00:00Z", 951_782_400_000)]
    [InlineData("2026-03-02T06:14:05.000Z", 1_772_432_045_000)]
    [InlineData("2026-03-02t06:14:05.2z", 1_772_432_045_200)]
    [InlineData("2026-03-02T06:14:05+00:00", 1_772_432_045_000)]
    [InlineData("2026-03-02T06:14:05.25-00:00", 1_772_432_045_250)]
    [InlineData("2026-03-02T06:14:05.123999999Z", 1_772_432_045_123)]
    [InlineData("9999-12-31T23:59:59.999Z", 253_402_300_799_999)]
    public void A_time_in_UTC_is_read(string text, long milliseconds)
    {
        Assert.True(TimeText.TryRead(Encoding.UTF8.GetBytes(text), out var moment));
        Assert.Equal(milliseconds, moment.UnixMilliseconds);
    }

    [Theory]
    [InlineData("")]
    [InlineData("2026-03-02")]
    [InlineData("2026-03-02T06:14:05")]
    [InlineData("2026-03-02 06:14:05Z")]
    [InlineData("2026-03-02T06:14Z")]
    [InlineData("2026-03-02T06:14:05.Z")]
    [InlineData("2026-03-02T06:14:05,5Z")]
    [InlineData("2026-03-02T06:14:05.5")]
    [InlineData("2026-03-02T06:14:05Zx")]
    [InlineData("2026-03-02T06:14:05+01:00")]
    [InlineData("2026-13-02T06:14:05Z")]
    [InlineData("2026-00-02T06:14:05Z")]
    [InlineData("2026-02-29T06:14:05Z")]
    [InlineData("2026-03-00T06:14:05Z")]
    [InlineData("2026-03-02T24:00:00Z")]
    [InlineData("2026-03-02T06:60:05Z")]
    [InlineData("2026-03-02T06:14:60Z")]
    [InlineData("2026-03-02T06:14:61Z")]
    [InlineData("1969-12-31T23:59:59Z")]
    [InlineData("9999-12-31T23:59:60Z")]
    [InlineData("20a6-03-02T06:14:05Z")]
    [InlineData("2026-0/-02T06:14:05Z")]
    [InlineData("-026-03-02T06:14:05Z")]
    [InlineData("2026-03-02T06:14:05.00000000000000000000000000000000000000000Z")]
    public void Anything_else_is_no_time(string text) => Assert.False(TimeText.TryRead(Encoding.UTF8.GetBytes(text), out _));

    [Fact]
    public void Every_day_agrees_with_the_calendar_of_the_platform()
    {
        for (var day = new DateTime(1970, 1, 1, 13, 7, 11, DateTimeKind.Utc); day.Year < 9999; day = day.AddDays(11).AddMilliseconds(1))
        {
            var text = day.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
            Assert.True(TimeText.TryRead(Encoding.UTF8.GetBytes(text), out var moment), text);
            Assert.Equal(new DateTimeOffset(day).ToUnixTimeMilliseconds(), moment.UnixMilliseconds);
        }
    }
}

using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Topics;
using CsCheck;

namespace AxleTelemetry.Messages.Tests.Payloads;

public class OrderTests
{
    private static readonly string[] Fields =
    [
        $"\"t\":\"{Decoded.T}\"", """ "kpa":{"tag":3,"drive":1} """, """ "kpa":{"steer":9,"tag":3.5} """, """ "axles":{"tag":"raised","drive":"loaded"} """,
        "\"ride\":\"normal\"", "\"pto\":true", "\"pto\":false", "\"wheel_speed_mps\":20", "\"lat\":46", "\"lon\":14", "\"speed_mps\":21", "\"alt_m\":-3", "\"x\":[{}]",
    ];

    [Fact]
    public void The_order_of_fields_does_not_matter_and_readings_come_in_theirs()
    {
        var expected = Readings(Fields);
        Assert.Equal(expected.Order(), expected);
        Gen.Shuffle(Fields).Sample(shuffled => expected.AsSpan().SequenceEqual(Readings(shuffled)), iter: 2000);
    }

    [Fact]
    public void A_sample_of_very_many_readings_is_ordered_too()
    {
        var values = string.Join(',', Enumerable.Range(0, 3000).Select(i => $"\"drive\":{i * 7919 % 1600}"));
        var readings = Decoded.Sample(UpStream.Pressure, $$""" "kpa":{ {{values}} } """).Readings.ToArray();
        Assert.Equal(3000, readings.Length);
        Assert.Equal(readings.Order(), readings);
    }

    private static Reading[] Readings(string[] fields)
    {
        var message = Decoded.From(UpStream.Frame, $$"""{"samples":[{ {{string.Join(',', fields)}} }]}""");
        Assert.Equal(0, message.Refusals.Total);
        return message.Readings.ToArray();
    }
}

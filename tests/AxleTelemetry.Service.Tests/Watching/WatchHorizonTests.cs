using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>A day of watching needs no more memory than its first hours.</summary>
public class WatchHorizonTests
{
    private const string Tractor = "TR-04", Semi = "ST-06";
    private readonly WatchedConvoy _convoy = new();

    [Fact]
    public void What_is_held_does_not_grow_and_late_readings_within_the_horizon_still_count()
    {
        _convoy.SendAt(WatchedConvoy.Topic(Tractor, "coupling"), $$"""{"samples":[{"t":{{WatchedConvoy.Ms(0)}},"trailers":["{{Semi}}"]}]}""", At(0));
        var hours = new List<int>();
        for (var hour = 0; hour < 10; hour++)
        {
            for (var i = 3600 * hour; i < 3600 * (hour + 1); i += 10) Play(i);
            hours.Add(_convoy.Held);
        }

        Assert.InRange(hours[^1], 2 * 2 * 360, 3 * 2 * 360);
        Assert.Equal(hours[^1], hours[^4], 200.0);

        var late = _convoy[Tractor].Readings.Late;
        _convoy.SendAt(WatchedConvoy.Topic(Tractor, "frame"), WatchedConvoy.Frame(36_000 - 5395, "\"drive\":405"), At(36_001));
        _convoy.SendAt(WatchedConvoy.Topic(Tractor, "frame"), WatchedConvoy.Frame(5, "\"drive\":405"), At(36_002));
        var summary = _convoy.End();
        Assert.Equal(4, _convoy[Tractor].Readings.Late - late); // Pressure, latitude, longitude and speed of one sample.
        Assert.Equal(4, summary.NotTaken.Single(n => n.What == "too late").Count);
        Assert.Equal([Tractor, Semi], _convoy[Tractor].Members.Select(m => m.Id));
    }

    [Fact]
    public void A_trailers_lift_is_remembered_for_longer_than_its_pressures()
    {
        _convoy.SendAt(WatchedConvoy.Topic(Semi, "lift"), $$"""{"samples":[{"t":{{WatchedConvoy.Ms(0)}},"axles":{"trailer-1":"raised"} }]}""", At(0));
        for (var i = 10; i < 6 * 3600; i += 10) Play(i);
        _convoy.SendAt(WatchedConvoy.Topic(Tractor, "coupling"), $$"""{"samples":[{"t":{{WatchedConvoy.Ms(6 * 3600)}},"trailers":["{{Semi}}"]}]}""", At(6 * 3600 + 1));
        Play(6 * 3600 + 10);
        _convoy.End();
        Assert.Equal(1u << 2, _convoy.LaneOf(Tractor).Configuration.Raised);
    }

    private void Play(int i)
    {
        _convoy.SendAt(WatchedConvoy.Topic(Tractor, "frame"), WatchedConvoy.Frame(i, $"\"drive\":{400 + 5 * (i % 3)}"), At(i));
        _convoy.SendAt(WatchedConvoy.Topic(Semi, "pressure"), $$$"""{"samples":[{"t":{{{WatchedConvoy.Ms(i)}}},"kpa":{"bogie":{{{300 + i % 7}}}}}]}""", At(i));
    }

    private static Moment At(double seconds) => new(WatchedConvoy.Ms(seconds + 1));
}

using AxleTelemetry.Service.Fleet;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Service.Tests.Fleet;

/// <summary>Within the waiting time neither batching nor the order of arrival changes what a lane takes or says.</summary>
public class OrderInvarianceTests
{
    private readonly record struct Sample(double At, string Vehicle, string Stream, string Fields);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    public void Any_batching_and_any_order_within_the_wait_gives_the_same(int seed)
    {
        var samples = Journey();
        var plain = new Convoy();
        foreach (var sample in samples) Send(plain, sample.Vehicle, sample.Stream, [sample]);
        plain.Lanes.Flush();

        var mixed = new Convoy();
        foreach (var batch in Mix(samples, new SeededRandom((ulong)seed))) Send(mixed, batch[0].Vehicle, batch[0].Stream, batch);
        mixed.Lanes.Flush();

        foreach (var unit in plain.Lanes.Units)
        {
            var other = mixed[unit.Name.Id];
            Assert.Equal(plain.Said(unit.Name.Id).Select(o => o.ToString()), mixed.Said(unit.Name.Id).Select(o => o.ToString()));
            Assert.Equal(unit.Lane.Setup.Combination.Vehicles, other.Lane.Setup.Combination.Vehicles);
            Assert.True(unit.Lane.State.SameBits(other.Lane.State), $"{unit.Name.Id} differs with seed {seed}.");
            Assert.Equal((unit.Counts.Stepped, 0L), (other.Counts.Stepped, other.Counts.Late));
        }

        foreach (var trailer in plain.Lanes.Trailers)
            Assert.Equal((trailer.Counts.Stepped, trailer.Counts.NotCoupled), (mixed.Trailer(trailer.Name.Id).Counts.Stepped, mixed.Trailer(trailer.Name.Id).Counts.NotCoupled));
    }

    /// <summary>Two tractors and one semi-trailer that changes between them while everyone keeps talking.</summary>
    private static List<Sample> Journey()
    {
        var samples = new List<Sample>();
        for (var i = 0; i < 300; i++)
        {
            samples.Add(new(i, "TR-04", "frame", $$""" "kpa":{"drive":{{520 + 4 * (i % 5)}}},"lat":46,"lon":15,"speed_mps":20 """));
            samples.Add(new(i + 0.1, "TP-05", "frame", $$""" "kpa":{"rear":{{410 + 4 * (i % 4)}}},"lat":46,"lon":15,"speed_mps":19 """));
            samples.Add(new(i + 0.2, "ST-06", "pressure", $$""" "kpa":{"bogie":{{500 + 3 * (i % 7)}}} """));
            if (i % 40 == 20) samples.Add(new(i + 0.3, "ST-06", "lift", $$""" "axles":{"trailer-1":"{{(i % 80 == 20 ? "raised" : "lowered")}}"} """));
        }

        samples.Add(new(10.5, "TR-04", "coupling", """ "trailers":["ST-06"] """));
        samples.Add(new(110.5, "TR-04", "coupling", """ "trailers":[] """));
        samples.Add(new(130.5, "TP-05", "coupling", """ "trailers":["ST-06"] """));
        samples.Add(new(230.5, "TR-04", "coupling", """ "trailers":["ST-06"] """));
        return [.. samples.OrderBy(s => s.At)];
    }

    /// <summary>Each sample is sent up to 1.9 s after its moment; neighbours of one stream may go together.</summary>
    private static List<List<Sample>> Mix(List<Sample> samples, SeededRandom random)
    {
        var batches = new List<List<Sample>>();
        foreach (var stream in samples.GroupBy(s => (s.Vehicle, s.Stream)))
        {
            List<Sample>? batch = null;
            foreach (var sample in stream)
            {
                if (batch is null || sample.At - batch[0].At > 0.9 || random.Chance(0.5)) batches.Add(batch = []);
                batch.Add(sample);
            }
        }

        var repeated = batches.Where(_ => random.Chance(0.1)).ToList();
        return [.. batches.Concat(repeated).OrderBy(b => b[0].At + random.Between(0.9, 1.9))];
    }

    private static void Send(Convoy convoy, string vehicle, string stream, List<Sample> batch) =>
        convoy.Send(vehicle, stream, $$"""{"samples":[{{string.Join(',', batch.Select(s => $$"""{"t":{{Convoy.Ms(s.At)}},{{s.Fields}}}"""))}}]}""");
}

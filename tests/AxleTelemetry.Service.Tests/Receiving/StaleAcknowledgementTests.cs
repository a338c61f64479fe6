using System.Collections.Concurrent;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Tests.Receiving;

public class StaleAcknowledgementTests
{
    private const int Connections = 60;

    private readonly ConcurrentDictionary<string, bool> _committed = new();
    private readonly List<FakeBroker.Visit> _visits = [];
    private readonly Queue<IntakeBatch> _held = new();

    /// <summary>Connections break at random while commits are under way, and packet ids mean another message on each.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(20260302)]
    [InlineData(77)]
    public async Task Only_what_came_on_a_connection_and_is_committed_is_acknowledged_on_it(int seed)
    {
        var random = new Random(seed);
        using var broker = new FakeBroker();
        await using var station = new Station().Run(Station.At(broker.Port));
        var delivered = 0;
        for (var c = 1; c <= Connections; c++)
        {
            var visit = await broker.Accept(station.Changed, _committed.ContainsKey);
            _visits.Add(visit);
            var messages = random.Next(1, 60);
            for (var i = 0; i < messages; i++) await visit.Deliver($"{c}:{i}");
            delivered += messages;
            await station.Changed.Until(() => station.Trace.Received == delivered, $"seed {seed}: {delivered} received");
            foreach (var batch in await station.Take(delivered - (int)station.Trace.Committed - _held.Sum(b => b.Messages.Length))) _held.Enqueue(batch);
            await Round(random, station, visit);
        }

        while (_held.Count > 0) CommitOne(station);
        Assert.All(_visits, visit => Assert.Empty(visit.Wrong));
        Assert.True(station.Trace.AcknowledgementsDropped > 100, $"seed {seed}: too few stale ones");
        Assert.True(_visits.Sum(visit => visit.Acknowledgements) > 100, $"seed {seed}: too few acknowledged");
    }

    private async Task Round(Random random, Station station, FakeBroker.Visit visit)
    {
        switch (random.Next(4))
        {
            case 0:
                // All is committed and acknowledged before the break.
                while (_held.Count > 0) CommitOne(station);
                await station.Changed.Until(() => visit.Acknowledgements == visit.Deliveries, "all acknowledged");
                await visit.Break(random.Next(2) == 0);
                break;
            case 1:
                // The commit races the break.
                var commit = Task.Run(() =>
                {
                    while (_held.Count > 0) CommitOne(station);
                });
                await visit.Break(random.Next(2) == 0);
                await commit;
                break;
            case 2:
                await visit.Break(random.Next(2) == 0);
                if (_held.Count > 0) CommitOne(station);
                break;
            default:
                // The batch is committed when another connection stands.
                await visit.Break(random.Next(2) == 0);
                break;
        }
    }

    private void CommitOne(Station station)
    {
        var batch = _held.Dequeue();
        foreach (var text in Station.Texts([batch])) _committed[text] = true;
        station.Intake.Committed(batch);
    }
}

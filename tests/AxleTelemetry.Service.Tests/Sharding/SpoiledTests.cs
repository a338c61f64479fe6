using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A hundred thousand bad messages with good ones between them, through the shard and its journal.</summary>
public sealed class SpoiledTests : IDisposable
{
    private const int Seed = 7, Spoiled = 100_000, EveryGood = 10;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-spoiled-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void Nothing_breaks_every_good_message_is_in_the_journal_and_every_refusal_is_counted_with_its_reason()
    {
        var good = RandomFleet.Recording(11, 3600);
        var small = good.Where(m => m.Payload.Length < 2500).ToImmutableArray();
        // Spoiled ones are received when all was said, so that the clock refuses none of the good.
        var end = good[^1].Received!.Value.Plus(60);
        var oracle = new MessageOracle(RandomFleet.Scene.Fleet, RandomFleet.Scene.Vehicles, TimeSpan.FromSeconds(60));
        var expected = new SortedDictionary<RefusalReason, long>();
        long strangers = 0;
        List<RecordedMessage> all = [];
        var next = 0;
        foreach (var spoiled in Spoiler.Spoil(small, Seed).Take(Spoiled))
        {
            var message = spoiled with { Received = end.Plus(all.Count * 0.001) };
            strangers += Count(oracle.Judge(message), oracle, expected);
            all.Add(new RecordedMessage(message.Topic, message.Payload, message.Received));
            if (all.Count % EveryGood == 0 && next < good.Length) all.Add(good[next++] with { Received = message.Received });
        }

        Assert.Equal(good.Length, next);
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var store = opened.Store;
        var run = new ShardRun(opened.Shard);
        run.Configure(end);
        foreach (var batch in all.Chunk(1000)) run.Append(batch);
        run.End();
        Assert.Empty(run.Shard.State.Stopped);
        using var reader = store.Journal.Reader();
        AllThere(reader, good);
        Assert.Equal(strangers, run.Shard.State.Unknown.Messages);
        var counted = run.Shard.State.Refusals.All().SelectMany(v => v.Refusals.Counts).Where(c => c.Key != RefusalReason.CannotBeCoupled)
            .GroupBy(c => c.Key).ToDictionary(g => g.Key, g => g.Sum(c => c.Value));
        Assert.Equal(expected, counted.OrderBy(c => c.Key).ToDictionary());
    }

    /// <summary>Counts what a message has refused, all of it: also what is counted only. One for a stranger's.</summary>
    private static long Count(MessageVerdict verdict, MessageOracle oracle, SortedDictionary<RefusalReason, long> counts)
    {
        switch (verdict)
        {
            case MessageVerdict.Stranger:
                return 1;
            case MessageVerdict.NoTopic nowhere:
                counts[nowhere.Refusal.Reason] = counts.GetValueOrDefault(nowhere.Refusal.Reason) + 1;
                return 0;
            case MessageVerdict.RefusedWhole or MessageVerdict.Taken:
                foreach (var reason in Enum.GetValues<RefusalReason>())
                    if (oracle.Refusals.Count(reason) is var times and > 0)
                        counts[reason] = counts.GetValueOrDefault(reason) + times;
                return 0;
            default:
                throw new InvalidOperationException($"Nobody knows {verdict}.");
        }
    }

    /// <summary>Every reading of the good messages is in the log: in the message itself, or in a spoiled copy that came before it.</summary>
    private static void AllThere(JournalReader reader, ImmutableArray<RecordedMessage> good)
    {
        var readings = new Dictionary<VehicleName, HashSet<Domain.Readings.Reading>>();
        foreach (var message in good)
        {
            var topic = message.Topic.Split('/');
            var vehicle = new VehicleName(topic[2], topic[3]);
            if (!readings.TryGetValue(vehicle, out var kept)) readings.Add(vehicle, kept = Kept(reader, vehicle));
            foreach (var reading in Decoded(message)) Assert.Contains(reading, kept);
        }
    }

    private static HashSet<Domain.Readings.Reading> Kept(JournalReader reader, VehicleName vehicle)
    {
        var kept = new HashSet<Domain.Readings.Reading>();
        var query = new InputQuery(Codes.Of(vehicle), new SampleSpan(new Moment(long.MinValue), new Moment(long.MaxValue)));
        for (var page = reader.Inputs(query); !page.IsEmpty; page = reader.Inputs(query))
        {
            foreach (var input in page.Where(i => i.Row.Kind == Codes.MessageInput || i.Row.Kind == Codes.WideMessageInput))
                kept.UnionWith(Decoded(new RecordedMessage($"axles/v1/{vehicle.Fleet}/{vehicle.Id}/{((Messages.Topics.UpStream)input.Row.Stream.Code).ToString().ToLowerInvariant()}", input.Row.Bytes.AsMemory(), input.Row.Received)));
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        return kept;
    }

    private static IEnumerable<Domain.Readings.Reading> Decoded(RecordedMessage message)
    {
        var oracle = new MessageOracle(RandomFleet.Scene.Fleet, RandomFleet.Scene.Vehicles, TimeSpan.FromSeconds(60));
        return oracle.Judge(new SpoiledMessage("", message.Topic, message.Payload.ToArray(), message.Received!.Value)) is MessageVerdict.Taken taken ? taken.Message.Readings.ToArray() : [];
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>Whatever comes, something is made of it: taken, or refused with a reason. Nothing throws.</summary>
public sealed class SpoilerTests
{
    private const int Seed = 20260302, Count = 100_000;

    private static readonly string[] NeverGood = ["1001 samples", "65 537 bytes", "65 KiB of one field", "two values", "byte order mark", "another alphabet", "topic of no stream", "topic with a wildcard", "topic with an empty part", "topic with a further part", "topic without a part"];

    private static readonly ImmutableArray<RecordedMessage> Good = [.. RandomFleet.Recording(3, 2400).Where(m => m.Payload.Length < 2500)];

    [Fact]
    public void A_hundred_thousand_spoiled_messages_are_taken_or_refused_with_a_reason()
    {
        var oracle = new MessageOracle(RandomFleet.Scene.Fleet, RandomFleet.Scene.Vehicles, TimeSpan.FromSeconds(60));
        var reasons = new HashSet<RefusalReason>();
        var taken = new Dictionary<string, int>();
        var number = 0;
        foreach (var message in Spoiler.Spoil(Good, Seed).Take(Count))
        {
            number++;
            try
            {
                var verdict = oracle.Judge(message);
                foreach (var refusal in Refusals(verdict))
                {
                    Assert.NotEmpty(refusal.Field);
                    Assert.NotEmpty(refusal.Right);
                    Assert.InRange(refusal.ToString().Length, 1, 1000);
                    reasons.Add(refusal.Reason);
                }

                taken[message.How] = taken.GetValueOrDefault(message.How) + (verdict is MessageVerdict.Taken { Refused.IsEmpty: true } ? 1 : 0);
            }
            catch (Exception problem)
            {
                throw new InvalidOperationException($"Seed {Seed}, message {number}: {message}", problem);
            }
        }

        // Those after it are of recordings and of couplings: topic and decoder know none of them.
        Assert.Equal(Enum.GetValues<RefusalReason>().Where(r => r <= RefusalReason.Contradiction), reasons.Order());
        Assert.Superset(TopicSpoiling.Names.Concat(ShapeSpoiling.Names).ToHashSet(), taken.Keys.ToHashSet());
        foreach (var how in NeverGood) Assert.Equal((how, 0), (how, taken[how]));
        foreach (var how in (string[])["topic of another vehicle", "1000 samples", "65 536 bytes", "bytes changed"]) Assert.True(taken[how] > 0, how);
    }

    [Fact]
    public void The_same_seed_spoils_the_same_way()
    {
        var first = Spoiler.Spoil(Good, 5).Take(2000).ToList();
        var second = Spoiler.Spoil(Good, 5).Take(2000).ToList();
        Assert.All(first.Zip(second), pair => Assert.True(
            (pair.First.How, pair.First.Topic) == (pair.Second.How, pair.Second.Topic) && pair.First.Payload.AsSpan().SequenceEqual(pair.Second.Payload)));
    }

    [Theory]
    [InlineData("axles/v1/north/RT-01/frame", true)]
    [InlineData("axles/v1//RT-01/frame", true)]
    [InlineData("axles/v1/north/+/frame", false)]
    [InlineData("axles/v1/north/#", false)]
    [InlineData("axles/v1/\0", false)]
    [InlineData("", false)]
    public void Which_topics_a_broker_takes(string topic, bool can) => Assert.Equal(can, new SpoiledMessage("", topic, [], default).CanBePublished);

    [Fact]
    public void No_broker_takes_half_a_character_or_a_topic_too_long()
    {
        Assert.False(new SpoiledMessage("", "axles/\ud800", [], default).CanBePublished);
        Assert.False(new SpoiledMessage("", new string('x', 65_536), [], default).CanBePublished);
        Assert.True(new SpoiledMessage("", new string('x', 65_535), [], default).CanBePublished);
    }

    private static ImmutableArray<Refusal> Refusals(MessageVerdict verdict)
    {
        switch (verdict)
        {
            case MessageVerdict.NoTopic none: return [none.Refusal];
            case MessageVerdict.Stranger: return [];
            case MessageVerdict.RefusedWhole whole: return [whole.Refusal];
            case MessageVerdict.Taken taken:
                foreach (var reading in taken.Message.Readings) Assert.True(double.IsFinite(reading.Value));
                Assert.Equal(taken.Message.Refusals.Total == 0, taken.Refused.IsEmpty);
                return taken.Refused;
            default: throw new InvalidOperationException($"Nobody knows {verdict}.");
        }
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>
/// What networks and devices do to a recording on its way. Whatever is done, the same samples arrive, and none before it was
/// taken; messages are in the order received. Every message must be good and say when it was received.
/// </summary>
public static class Disturbance
{
    private const double StoredApart = 0.02;
    private const int LongestBatch = 100;

    /// <summary>Any order at all. A message that comes before its samples were taken holds up those behind it.</summary>
    public static ImmutableArray<RecordedMessage> Permuted(this ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var order = messages.ToArray();
        for (var i = order.Length - 1; i > 0; i--)
        {
            var other = random.Whole(0, i);
            (order[i], order[other]) = (order[other], order[i]);
        }

        return Received(order);
    }

    /// <summary>Each message up to some time later than it came, so that near ones pass each other.</summary>
    public static ImmutableArray<RecordedMessage> Jostled(this ImmutableArray<RecordedMessage> messages, double seconds, SeededRandom random)
    {
        ArgumentNullException.ThrowIfNull(random);
        return InOrder(messages.Select(m => m with { Received = SampleMessage.ReceivedOf(m).Plus(random.Between(0, seconds)) }));
    }

    /// <summary>Some messages a second time, up to an hour later, byte by byte the same.</summary>
    public static ImmutableArray<RecordedMessage> Repeated(this ImmutableArray<RecordedMessage> messages, double part, SeededRandom random)
    {
        ArgumentNullException.ThrowIfNull(random);
        return InOrder([.. messages, .. messages.Where(_ => random.Chance(part)).Select(m => Later(m, random))]);
    }

    /// <summary>The samples of some messages a second time, in messages of other lengths, up to an hour later.</summary>
    public static ImmutableArray<RecordedMessage> RepeatedOtherwise(this ImmutableArray<RecordedMessage> messages, double part, SeededRandom random)
    {
        ArgumentNullException.ThrowIfNull(random);
        ImmutableArray<RecordedMessage> again = [.. messages.Where(_ => random.Chance(part))];
        return InOrder([.. messages, .. again.Rebatched(random).Select(m => Later(m, random))]);
    }

    /// <summary>The same samples in messages of other lengths: some split, some merged, each when the last of its samples had come.</summary>
    public static ImmutableArray<RecordedMessage> Rebatched(this ImmutableArray<RecordedMessage> messages, SeededRandom random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var rest = new List<RecordedMessage>();
        var parts = new List<SampleMessage>();
        foreach (var message in messages)
        {
            if (SampleMessage.Of(message) is { } taken) parts.Add(taken);
            else rest.Add(message);
        }

        var batches = parts.GroupBy(p => (p.Topic, p.Boot))
            .SelectMany(g => SampleMessage.Batched(g.SelectMany(p => p.Samples.Select(s => (s, p.Received))), g.Key, Length(random.Fork())));
        return InOrder([.. rest, .. batches]);
    }

    /// <summary>What a vehicle's device would have sent while it had no connection comes at once when it has one again.</summary>
    /// <param name="messages">The messages.</param>
    /// <param name="vehicle">Id of the vehicle.</param>
    /// <param name="outage">When there is no connection.</param>
    /// <param name="first">What the device sends first of what it stored.</param>
    public static ImmutableArray<RecordedMessage> Delayed(this ImmutableArray<RecordedMessage> messages, string vehicle, (Moment From, Moment Until) outage, StoredFirst first)
    {
        var held = messages.Where(IsHeld).ToList();
        if (first == StoredFirst.Newest) held.Reverse();
        var forwarded = held.Select((m, i) => m with { Received = outage.Until.Plus(StoredApart * (i + 1)) });
        return InOrder([.. messages.Where(m => !IsHeld(m)), .. forwarded]);

        bool IsHeld(RecordedMessage message) =>
            Topic.Parse(message.Topic) is TopicResult.Named named && named.Topic.Vehicle == vehicle
            && SampleMessage.ReceivedOf(message) is var at && at >= outage.From && at < outage.Until;
    }

    private static Func<int> Length(SeededRandom random) => () => random.Chance(0.5) ? random.Whole(1, 5) : random.Whole(1, LongestBatch);

    private static RecordedMessage Later(RecordedMessage message, SeededRandom random) =>
        message with { Received = SampleMessage.ReceivedOf(message).Plus(random.Chance(0.5) ? random.Between(0, 5) : random.Between(0, 3600)) };

    private static ImmutableArray<RecordedMessage> InOrder(IEnumerable<RecordedMessage> messages) => [.. messages.OrderBy(m => m.Received)];

    private static ImmutableArray<RecordedMessage> Received(IEnumerable<RecordedMessage> order)
    {
        var last = default(Moment);
        var received = ImmutableArray.CreateBuilder<RecordedMessage>();
        foreach (var message in order)
        {
            var possible = SampleMessage.NewestOf(message) is { } newest && newest > last ? newest : last;
            last = possible.Plus(0.001);
            received.Add(message with { Received = last });
        }

        return received.ToImmutable();
    }
}

/// <summary>What a device that stores and forwards sends first.</summary>
public enum StoredFirst
{
    /// <summary>The oldest message.</summary>
    Oldest,

    /// <summary>The newest message.</summary>
    Newest,
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Days;

/// <summary>When the messages of one device leave it: at once, after an outage, twice, or out of turn.</summary>
internal sealed class Network(DayFaults faults, Moment start, SeededRandom random)
{
    private const double LeastDelay = 0.2, MostDelay = 2, StoredApart = 0.02;
    private const double DuplicatedPart = 0.03, ReorderedPart = 0.05, MostReordered = 40;

    private readonly List<SentMessage> _held = [];
    private readonly bool _newestFirst = faults.Has(FaultKind.StoredNewestFirst);
    private Moment _last;

    /// <summary>Takes a message that the device has finished; what leaves and when goes to <paramref name="queue"/>.</summary>
    public void Send(SentMessage message, SendQueue queue)
    {
        if (Outage(message.SentAt) is not null)
        {
            _held.Add(message);
            return;
        }

        Release(message.SentAt, queue);
        var sent = message.SentAt.Plus(random.Between(LeastDelay, MostDelay));
        if (faults.Has(FaultKind.Reordering) && random.Chance(ReorderedPart)) sent = sent.Plus(random.Between(1, MostReordered));
        else if (sent > _last) _last = sent;
        else sent = _last;
        queue.Add(message with { SentAt = sent });
        if (faults.Has(FaultKind.Duplicates) && random.Chance(DuplicatedPart))
            queue.Add(message with { SentAt = sent.Plus(random.Chance(0.5) ? random.Between(0, 5) : random.Between(0, 3600)) });
    }

    /// <summary>Sends what is stored once there is a connection again.</summary>
    public void Release(Moment now, SendQueue queue)
    {
        if (_held.Count == 0 || Outage(now) is not null) return;
        var from = OutageBefore(now);
        if (_newestFirst) _held.Reverse();
        for (var i = 0; i < _held.Count; i++) queue.Add(_held[i] with { SentAt = _last = from.Plus(StoredApart * (i + 1)) });
        _held.Clear();
    }

    /// <summary>At the end of a day the device stays on until everything is sent.</summary>
    public void Finish(SendQueue queue)
    {
        if (_held.Count > 0) Release(End(Outage(_held[^1].SentAt) ?? (0, 0)), queue);
    }

    private (int From, int Seconds)? Outage(Moment at)
    {
        var second = at.SecondsSince(start);
        foreach (var outage in faults.Outages)
            if (second >= outage.From && second < outage.From + outage.Seconds)
                return outage;
        return null;
    }

    private Moment OutageBefore(Moment now) => faults.Outages.Select(End).Where(end => end <= now).Append(start).Max();

    private Moment End((int From, int Seconds) outage) => start.Plus(outage.From + outage.Seconds);
}

/// <summary>Messages on their way, by when they leave; of two at one moment the one that came first.</summary>
internal sealed class SendQueue
{
    private readonly PriorityQueue<SentMessage, (Moment At, long Order)> _queue = new();
    private long _count;

    public void Add(SentMessage message) => _queue.Enqueue(message, (message.SentAt, _count++));

    public IEnumerable<SentMessage> Until(Moment now)
    {
        while (_queue.TryPeek(out var message, out var when) && when.At <= now)
        {
            _queue.Dequeue();
            yield return message;
        }
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Metering;

/// <summary>What of a shard is counted by asking it: taken now and then, as it costs a look at every vehicle.</summary>
/// <param name="Heard">Vehicles heard in the last 5 min.</param>
/// <param name="Alarms">Alerts that rang in the last 10 min.</param>
/// <param name="Alerts">Open alerts by state and priority.</param>
/// <param name="Refused">Refusals since the start, by reason.</param>
/// <param name="Readings">What became of readings, by outcome.</param>
internal sealed record FleetFigures(
    int Heard, int Alarms, ImmutableArray<(string State, string Priority, int Count)> Alerts, ImmutableArray<(string Reason, long Count)> Refused, ImmutableArray<(string Outcome, long Count)> Readings)
{
    private const double HeardSeconds = 300, AlarmSeconds = 600;
    private const int MostTold = 2_000;

    public static FleetFigures None { get; } = new(0, 0, [], [], []);

    public static async Task<FleetFigures> OfAsync(ShardDesk desk, Moment now, CancellationToken cancel)
    {
        var (heard, counts, book, refused) = await desk.AskAsync(s => (
            s.AllFollowed.Count(v => v.HeardAt is { } at && now.SecondsSince(at) < HeardSeconds),
            s.AllFollowed.Select(v => s.History.CountsOf(v.Name)).Aggregate(default(Domain.Histories.ReadingCounts), (a, b) =>
                new(a.Taken + b.Taken, a.Repeated + b.Repeated, a.Conflicting + b.Conflicting, a.Late + b.Late, a.TooLate + b.TooLate)),
            s.Alerts,
            s.Refusals), cancel);
        return new(heard, Rang(desk, now), Open(book), ByReason(refused),
            [("taken", counts.Taken), ("repeated", counts.Repeated), ("conflicting", counts.Conflicting), ("late", counts.Late), ("too_late", counts.TooLate)]);
    }

    private static ImmutableArray<(string State, string Priority, int Count)> Open(AlertBook book) =>
        [.. book.Alerts.Where(a => a.State.IsOpen).GroupBy(a => (StateDocument.Of(a.State).Code, JsonText.Word(a.Priority))).Select(g => (g.Key.Code, g.Key.Item2, g.Count())).Order()];

    private static ImmutableArray<(string Reason, long Count)> ByReason(RefusalCounter refused) =>
        [.. refused.All().Select(v => v.Refusals).Append(refused.OfOthers()).SelectMany(r => r.Counts).GroupBy(c => c.Key).Select(g => (JsonText.Word(g.Key), g.Sum(c => c.Value))).Order()];

    private static int Rang(ShardDesk desk, Moment now) => desk.Read(r => r.ToldBefore(Position.End, MostTold))
        .TakeWhile(t => now.SecondsSince(t.Row.At) < AlarmSeconds)
        .Count(t => AlertChangeJson.Read(t.Row.Bytes.AsSpan()) is { Rings: true });
}

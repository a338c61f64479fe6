using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Storage.Delivering;
using CsCheck;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>How fast a person is told.</summary>
public sealed class PaceTests
{
    private const int Most = AlarmRate.AcceptablePerHour;

    [Fact]
    public void Six_in_an_hour_come_one_by_one_and_the_rest_as_one()
    {
        var told = Run([.. Enumerable.Range(0, 20).Select(i => (60L * i, false))]);
        Assert.Equal(Enumerable.Range(0, 6).Select(i => (60L * i, 1)), told.Take(6));
        // The first of the six is an hour old when there is room again.
        Assert.Equal((3600L, 14), told[6]);
        Assert.Equal(7, told.Count);
    }

    [Fact]
    public void A_backlog_after_an_outage_comes_as_one() => Assert.Equal([(0L, 100)], Run([.. Enumerable.Repeat((0L, false), 100)]));

    [Fact]
    public void Urgent_ones_pass_those_that_are_not_up_to_twelve_in_an_hour()
    {
        var told = Run([.. Enumerable.Range(0, 6).Select(i => (10L * i, false)), .. Enumerable.Range(0, 20).Select(i => (100L + i, true))]);
        Assert.Equal(6, told.Count(t => t.At < 100));
        Assert.Equal(6, told.Count(t => t.At is >= 100 and < 120 && t.Parts == 1));
        Assert.Equal((3600L, 14), told[12]);
    }

    [Fact]
    public void Without_a_limit_nobody_waits() =>
        Assert.IsType<PaceStep.Send>(new Pace(null).Next([Parcel(1, false, 0)], [.. Enumerable.Repeat((new Moment(0), false), 1000)]));

    [Fact]
    public void However_they_come_no_hour_has_more_and_each_is_told_once_within_an_hour_of_room() =>
        Gen.Select(Gen.Int[0, 20_000], Gen.Bool).Array[0, 120].Sample(drawn =>
        {
            var came = drawn.Select(d => ((long)d.Item1, d.Item2)).OrderBy(d => d.Item1).ToImmutableArray();
            var told = Run(came);
            Assert.Equal(came.Length, told.Sum(t => t.Parts));
            for (var i = 0; i + (2 * Most) < told.Count; i++) Assert.True(told[i + (2 * Most)].At - told[i].At >= 3600, $"13 messages within {told[i].At}..{told[i + (2 * Most)].At}");
        }, iter: 200);

    /// <summary>Gives when messages are sent and how many each tells, for when they come (s) and whether they are urgent.</summary>
    private static List<(long At, int Parts)> Run(ImmutableArray<(long At, bool IsUrgent)> came)
    {
        var waiting = new List<(Parcel Parcel, int Parts)>();
        var delivered = new List<(Moment At, bool IsUrgent)>();
        var told = new List<(long At, int Parts)>();
        var (next, now, number) = (0, 0L, 0);
        while (next < came.Length || waiting.Count > 0)
        {
            for (; next < came.Length && came[next].At <= now; next++) waiting.Add((Parcel(++number, came[next].IsUrgent, came[next].At), 1));
            var due = waiting.OrderByDescending(w => w.Parcel.IsUrgent).ThenBy(w => w.Parcel.Number).Select(w => w.Parcel).ToImmutableArray();
            var recent = delivered.Where(d => d.At > Pace.Since(new Moment(now * 1000))).ToImmutableArray();
            switch (new Pace(Most).Next(due, recent))
            {
                case PaceStep.Nothing:
                    now = next < came.Length ? came[next].At : now;
                    break;
                case PaceStep.Wait wait:
                    // Meanwhile others may come.
                    now = Math.Min((wait.Until.UnixMilliseconds + 999) / 1000, next < came.Length ? came[next].At : long.MaxValue);
                    break;
                case PaceStep.Send send:
                    told.Add((now, waiting.Single(w => w.Parcel == send.Parcel).Parts));
                    delivered.Add((new Moment(now * 1000), send.Parcel.IsUrgent));
                    waiting.RemoveAll(w => w.Parcel == send.Parcel);
                    break;
                case PaceStep.Gather gather:
                    var parts = waiting.Where(w => gather.Parts.Contains(w.Parcel)).Sum(w => w.Parts);
                    waiting.RemoveAll(w => gather.Parts.Contains(w.Parcel));
                    waiting.Add((Parcel(++number, gather.Parts.Any(p => p.IsUrgent), now) with { Kind = ParcelKind.Digest }, parts));
                    break;
                case var other:
                    Assert.Fail($"{other}");
                    break;
            }
        }

        return told;
    }

    private static Parcel Parcel(long number, bool isUrgent, long at) => new(number, $"m{number}", "anna")
    {
        Alert = "", Kind = ParcelKind.Change, State = ParcelState.Waiting, IsUrgent = isUrgent, Queued = new Moment(at * 1000), Due = new Moment(at * 1000), Attempts = 0, Bytes = [],
    };
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>What a correction hands to telling is what live telling was told.</summary>
public sealed class InForceTests
{
    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 4).Select(i => (ulong)i)];

    [Theory, MemberData(nameof(Seeds))]
    public void After_a_second_run_the_episodes_are_those_told_live(ulong seed)
    {
        var inputs = Traffic.Draw(seed);
        foreach (var unit in Traffic.Units)
        {
            var told = Live(Delivered(inputs, unit, 0.8, out var end).Said);
            Assert.True(end.From > FleetHistory.Beginning, "begins at a snapshot");
            Same(told.Where(e => e.Ended is not { } ended || ended >= end.From).Select(e => e with { ToldWith = null }), end.InForce.Select(e => e with { ToldWith = null }));
            Delivered(inputs, unit, 0, out var whole);
            Assert.Equal(whole.Begins, whole.From);
            Same(told, whole.InForce);
        }
    }

    [Fact]
    public void What_fell_before_it_ended_has_the_level_it_had_last()
    {
        var delivery = Delivered(Traffic.Draw(1), Traffic.Units[0], 1, out _);
        var row = delivery.Archive.Rows.Select(Episode).First(e => e is not null)!;
        var inForce = new EpisodesInForce();
        inForce.Take(row with { ClosedAt = null, Level = Level.Surely, Reached = Level.Surely });
        inForce.Take(row with { ClosedAt = null, Level = Level.Likely, Reached = Level.Surely });
        inForce.Take(row with { ClosedAt = row.OpenedAt.Plus(60), Level = Level.Clear, Reached = Level.Surely });
        var told = Assert.Single(inForce.All());
        Assert.Equal((Level.Likely, Level.Surely, row.OpenedAt.Plus(60)), (told.Level, told.Highest, told.Ended));
    }

    [Fact]
    public void The_journeys_drawn_hold_what_is_told_together_and_what_is_open()
    {
        var told = Seeds.SelectMany(seed => Traffic.Units.SelectMany(unit => Live(Delivered(Traffic.Draw(seed.Data), unit, 1, out _).Said))).ToList();
        Assert.Contains(told, e => e.ToldWith is not null);
        Assert.Contains(told, e => e.Ended is null);
    }

    private static HistoryRow.Episode? Episode(RecordedRow row)
    {
        var from = new ByteReader(row.Bytes.Span);
        return HistoryRowCodec.Read(ref from) as HistoryRow.Episode;
    }

    private static void Same(IEnumerable<EpisodeInForce> expected, IEnumerable<EpisodeInForce> actual) =>
        Assert.Equal(expected.Select(e => e.ToString()).Order(StringComparer.Ordinal), actual.Select(e => e.ToString()).Order(StringComparer.Ordinal));

    /// <summary>All in order; then an accuracy of a position comes late, which changes nothing.</summary>
    private static Delivery Delivered(List<Input> inputs, VehicleName unit, double part, out Domain.Histories.Correction correction)
    {
        var delivery = Delivery.Begin(Traffic.Settings);
        foreach (var input in inputs) delivery.Take(input);
        delivery.Release(unit, inputs[^1].At);
        var own = inputs.OfType<Input.Read>().Where(i => i.Vehicle == unit).ToList();
        var late = new Reading(own[(int)(part * (own.Count - 1))].Reading.At, ReadingKind.Position, (ushort)PositionKey.Accuracy, 3);
        Assert.Equal(ReadingOutcome.Late, delivery.Take(unit, late));
        correction = delivery.History.Correct(unit);
        correction.Finish(new HistoryChange());
        return delivery;
    }

    /// <summary>What somebody knows who was told each change as it came.</summary>
    private static IEnumerable<EpisodeInForce> Live(List<LaneOutput> said)
    {
        Dictionary<(FindingKey, Moment), EpisodeInForce> known = [];
        foreach (var episode in said.OfType<LaneOutput.Episode>())
        {
            if (known.TryGetValue((episode.Key, episode.Since), out var before))
            {
                var told = Figures.Moved(before.Told, episode);
                known[(episode.Key, episode.Since)] = before with { Ended = told.Ended, Level = told.Level, Highest = told.Highest };
                continue;
            }

            var opened = Figures.Told(episode);
            known.Add((episode.Key, episode.Since), new EpisodeInForce(episode.Key, episode.Since, null, opened.Level, opened.Highest, opened.Standing, episode.ToldWith));
        }

        return known.Values;
    }
}

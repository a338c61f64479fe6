using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>What comes late, twice, otherwise, or too late; and what a second run leaves as it was.</summary>
public sealed class LatenessTests
{
    private static readonly Domain.Vehicles.VehicleName Rigid = Traffic.Name("rigid-6x2-tag");

    private static readonly List<Input.Read> Journey = [.. Traffic.Draw(5).OfType<Input.Read>().Where(i => i.Vehicle == Rigid)];

    [Fact]
    public void A_repeated_reading_is_counted_and_asks_for_nothing()
    {
        var delivery = Delivered(Traffic.Settings);
        Assert.Equal(ReadingOutcome.Repeated, delivery.Take(Rigid, Journey[^1].Reading)); // Held still.
        Assert.Equal(ReadingOutcome.Repeated, delivery.Take(Rigid, Journey[0].Reading)); // In the archive only.
        Assert.Empty(delivery.History.ToBeCorrected);
        Assert.Equal(2, delivery.History.CountsOf(Rigid).Repeated - Delivered(Traffic.Settings).History.CountsOf(Rigid).Repeated);
    }

    [Fact]
    public void Of_two_values_the_greater_counts_also_when_it_comes_late()
    {
        var delivery = Delivered(Traffic.Settings);
        var before = delivery.History.CountsOf(Rigid);
        var pressure = Journey.First(i => i.Reading.Kind == ReadingKind.Pressure).Reading;
        Assert.Equal(ReadingOutcome.Lesser, delivery.Take(Rigid, pressure with { Value = pressure.Value - 1 }));
        Assert.Empty(delivery.History.ToBeCorrected);
        Assert.Equal(ReadingOutcome.Late, delivery.Take(Rigid, pressure with { Value = pressure.Value + 500 }));
        Assert.Equal((Rigid, pressure.At), Assert.Single(delivery.History.ToBeCorrected));
        Assert.Equal(before.Conflicting + 2, delivery.History.CountsOf(Rigid).Conflicting);
    }

    [Fact]
    public void Behind_the_oldest_snapshot_it_is_too_late()
    {
        var delivery = Delivered(Traffic.Settings with { Horizon = 600, SnapshotEvery = 120 });
        var rows = delivery.Rows();
        var first = Journey[0].Reading;
        Assert.Equal(ReadingOutcome.TooLate, delivery.Take(Rigid, first with { At = first.At.Plus(-5) }));
        Assert.Equal(1, delivery.History.CountsOf(Rigid).TooLate);
        Assert.Empty(delivery.History.ToBeCorrected);
        // Snapshots of ten minutes and the one behind them are all that is kept.
        Assert.InRange(delivery.Archive.Snapshots, 3, 12);
        delivery.End();
        Assert.Equal(rows, delivery.Rows());
    }

    [Fact]
    public void Live_steps_go_on_while_a_correction_is_pending_and_running()
    {
        var delivery = Delivery.Begin(Traffic.Settings);
        var half = Journey[Journey.Count / 2].At;
        var late = Journey[Journey.Count / 4];
        foreach (var input in Journey.Where(i => i.At < half && i != late)) delivery.Take(input);
        delivery.Release(Rigid, half - 1);
        Assert.Equal(ReadingOutcome.Late, delivery.Take(Rigid, late.Reading));
        var correction = delivery.History.Correct(Rigid);
        Assert.True(correction.Begins < late.Reading.At);
        Assert.False(correction.Advance(100));
        foreach (var input in Journey.Where(i => i.At >= half)) delivery.Take(input);
        delivery.Release(Rigid, Journey[^1].At);
        Assert.Equal(Journey[^1].At, delivery.History.LaneOf(Rigid)!.State.Motion.LastReadingAt);
        Assert.True(delivery.History.IsBehind(Rigid));
        var change = new HistoryChange();
        correction.Finish(change);
        delivery.Archive.Apply(change);
        Assert.False(delivery.History.IsBehind(Rigid));
        Assert.Empty(change.Outputs);
        delivery.End();
        Assert.Equal(Delivered(Traffic.Settings).Rows(), delivery.Rows());
    }

    [Fact]
    public void A_second_run_that_finds_nothing_new_changes_no_row()
    {
        var delivery = Delivered(Traffic.Settings);
        var position = Journey.First(i => i.Reading.Kind == ReadingKind.Position).Reading;
        // How accurate a position is changes nothing so far.
        delivery.Take(Rigid, position with { Key = (ushort)PositionKey.Accuracy, Value = 3 });
        var change = new HistoryChange();
        delivery.History.Correct(Rigid).Finish(change);
        Assert.Empty(change.Rows);
        Assert.Empty(change.Voided);
    }

    [Fact]
    public void A_state_of_another_version_is_put_right_by_a_second_run()
    {
        var delivery = Delivered(Traffic.Settings);
        var rows = delivery.Rows();
        var (unit, pulse, state) = (new ByteWriter(), new ByteWriter(), new ByteWriter());
        delivery.History.WriteUnit(Rigid, unit, withTrack: true);
        delivery.History.WritePulse(Rigid, pulse);
        LaneStateCodec.Write(delivery.History.LaneOf(Rigid)!.State, state);
        var bytes = unit.Written.ToArray();
        bytes[bytes.AsSpan().IndexOf(state.Written)]++;
        var restored = new FleetHistory(delivery.Archive, Traffic.Settings);
        var fromUnit = new ByteReader(bytes);
        var fromPulse = new ByteReader(pulse.Written);
        Assert.True(restored.ReadUnit(Rigid, ref fromUnit));
        Assert.True(restored.ReadPulse(Rigid, ref fromPulse));
        restored.Settle(Rigid);
        Assert.False(restored.IsRestored(Rigid));
        Assert.Equal(Rigid, Assert.Single(restored.ToBeCorrected).Unit);
        var change = new HistoryChange();
        restored.Correct(Rigid).Finish(change);
        delivery.Archive.Apply(change);
        Assert.Equal(rows, delivery.Rows());
        Assert.True(restored.LaneOf(Rigid)!.State.SameBits(delivery.History.LaneOf(Rigid)!.State));
    }

    [Fact]
    public void A_late_word_of_a_trailer_from_before_it_was_coupled_reaches_the_lane_it_joined()
    {
        var (tractor, trailer, start) = (Traffic.Name("tractor-4x2"), Traffic.Name("semi-tridem-lift-first"), Journey[0].Reading.At);
        var raised = new Reading(start.Plus(-60), ReadingKind.Lift, 0, (double)LiftReport.Raised);
        var coupled = new CouplingStatement(tractor, start.Plus(10), [trailer]);
        List<Delivery> deliveries = [Delivery.Begin(Traffic.Settings), Delivery.Begin(Traffic.Settings)];
        deliveries[0].Take(trailer, raised);
        foreach (var delivery in deliveries)
        {
            delivery.History.Take(coupled);
            for (var second = 0; second < 60; second++)
                delivery.Take(tractor, new Reading(start.Plus(second), ReadingKind.Position, (ushort)PositionKey.Speed, 20));
            delivery.Release(tractor, start.Plus(59).UnixMilliseconds);
        }

        Assert.NotEqual(deliveries[0].Rows(), deliveries[1].Rows());
        Assert.Equal(ReadingOutcome.Late, deliveries[1].Take(trailer, raised));
        Assert.Equal((tractor, coupled.At), Assert.Single(deliveries[1].History.ToBeCorrected));
        deliveries.ForEach(d => d.End());
        Assert.Equal(deliveries[0].Rows(), deliveries[1].Rows());
    }

    [Fact]
    public void A_late_word_of_a_trailer_while_it_did_not_fit_reaches_the_lane_that_it_fits_again()
    {
        var (tractor, trailer, start) = (Traffic.Name("tractor-4x2"), Traffic.Name("semi-tridem-lift-first"), Journey[0].Reading.At);
        var settings = Traffic.Settings with { CanRun = members => members.All(m => m.Vehicle != trailer || m.Version != 2) };
        var raised = new Reading(start.Plus(20), ReadingKind.Lift, 0, (double)LiftReport.Raised);
        List<Delivery> deliveries = [Delivery.Begin(settings), Delivery.Begin(settings)];
        deliveries[0].Take(trailer, raised);
        foreach (var delivery in deliveries)
        {
            delivery.Take(new CouplingStatement(tractor, start.Plus(-60), [trailer]));
            delivery.Take(new SettingsVersion(trailer, start.Plus(10), 2));
            delivery.Take(new SettingsVersion(trailer, start.Plus(30), 4));
            for (var second = 0; second < 60; second++)
                delivery.Take(tractor, new Reading(start.Plus(second), ReadingKind.Position, (ushort)PositionKey.Speed, 20));
            delivery.Release(tractor, start.Plus(59).UnixMilliseconds);
            Assert.Equal(2, delivery.History.LaneOf(tractor)!.Setup.Combination.Vehicles.Length);
        }

        Assert.NotEqual(deliveries[0].Rows(), deliveries[1].Rows());
        Assert.Equal(ReadingOutcome.Late, deliveries[1].Take(trailer, raised));
        deliveries.ForEach(d => d.End());
        Assert.Equal(deliveries[0].Rows(), deliveries[1].Rows());
    }

    [Fact]
    public void The_rows_are_what_a_lane_by_itself_says()
    {
        var delivery = Delivered(Traffic.Settings);
        var lane = new Lane(Traffic.SetupOf([new LaneMember(Rigid, 0)]));
        var outputs = new List<LaneOutput>();
        foreach (var same in Journey.GroupBy(i => (i.Reading.At, i.Reading.Kind, i.Reading.Key)).OrderBy(g => g.Min(i => i.Reading)))
            lane.Step(0, same.Max(i => i.Reading), outputs);
        var said = outputs.OfType<LaneOutput.Episode>().Where(e => e.Change == EpisodeChange.Opened).Select(e => (e.Key, e.Since)).ToHashSet();
        var rows = Decoded(delivery).ToList();
        Assert.NotEmpty(said);
        Assert.Equal(said, rows.OfType<HistoryRow.Episode>().Select(e => (e.Key.Finding, e.Key.At)).ToHashSet());
        Assert.Equal(outputs.OfType<LaneOutput.LoadBegan>().Select(b => (b.Since, b.Payload)), rows.OfType<HistoryRow.LoadBegun>().Select(b => (b.Since, b.Payload)));
        Assert.True(lane.State.SameBits(delivery.History.LaneOf(Rigid)!.State));
    }

    [Fact]
    public void A_row_read_back_gives_the_same_bytes()
    {
        foreach (var row in Delivered(Traffic.Settings).Archive.Rows)
        {
            var reader = new ByteReader(row.Bytes.Span);
            var read = HistoryRowCodec.Read(ref reader);
            Assert.NotNull(read);
            Assert.True(reader.EndedWell);
            Assert.Equal(row.Key, read.Key);
            Assert.Equal(row.Bytes.ToArray(), HistoryRowCodec.Encode(read));
            var cut = new ByteReader(row.Bytes.Span[..^1]);
            Assert.Null(HistoryRowCodec.Read(ref cut));
        }
    }

    [Fact]
    public void Loads_are_recorded_each_minute_rolling_and_each_quarter_of_an_hour_standing()
    {
        var loads = Decoded(Delivered(Traffic.Settings)).OfType<HistoryRow.Load>().ToList();
        for (var i = 1; i < loads.Count; i++)
        {
            var most = loads[i].Movement == Movement.Rolling && loads[i - 1].Movement == Movement.Rolling ? 61 : 901;
            Assert.InRange(loads[i].Key.At.SecondsSince(loads[i - 1].Key.At), 0, most);
        }
    }

    [Fact]
    public void Nothing_is_allocated_while_nothing_is_to_be_recorded()
    {
        var track = new LaneTrack([new LaneMember(Rigid, 0)], Traffic.SetupOf);
        var said = new LaneSaid([], null);
        foreach (var input in Journey) track.Step(0, input.Reading, said);
        var (at, rows) = (Journey[^1].Reading.At, said.Rows.Count);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var second = 0; second < 50; second++) track.Step(0, new Reading(at.Plus(second), ReadingKind.Position, (ushort)PositionKey.Heading, 80), said);
        Assert.Equal((0, rows), (GC.GetAllocatedBytesForCurrentThread() - before, said.Rows.Count));
    }

    private static Delivery Delivered(HistorySettings settings)
    {
        var delivery = Delivery.Begin(settings);
        foreach (var input in Journey) delivery.Take(input);
        delivery.Release(Rigid, Journey[^1].At);
        Assert.Empty(delivery.History.ToBeCorrected);
        return delivery;
    }

    private static IEnumerable<HistoryRow> Decoded(Delivery delivery)
    {
        foreach (var row in delivery.Archive.Rows)
        {
            var reader = new ByteReader(row.Bytes.Span);
            yield return HistoryRowCodec.Read(ref reader)!;
        }
    }
}

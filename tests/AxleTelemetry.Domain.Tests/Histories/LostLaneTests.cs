using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>A lane that has lost its state says and writes nothing until a second run has found it again.</summary>
public sealed class LostLaneTests
{
    private static readonly VehicleName Rigid = Traffic.Name("rigid-6x2-tag");
    private static readonly List<Input.Read> Journey = [.. Traffic.Draw(5).OfType<Input.Read>().Where(i => i.Vehicle == Rigid)];

    [Theory, InlineData(true), InlineData(false)]
    public void Nothing_is_said_or_written_by_a_lane_that_lost_its_state(bool killed)
    {
        var delivery = Until(Half);
        if (killed) delivery.Restart(killed: true);
        else delivery.History.Rerun(Rigid);
        Assert.False(delivery.History.IsRestored(Rigid));
        Assert.Null(delivery.History.LaneOf(Rigid));
        var (rows, said, snapshots) = (delivery.Rows(), delivery.Said.Count, delivery.Archive.Snapshots);
        foreach (var input in Journey.Where(i => i.At > Half)) delivery.Take(input);
        delivery.Release(Rigid, Journey[^1].At);
        Assert.Equal((said, snapshots), (delivery.Said.Count, delivery.Archive.Snapshots));
        Assert.Equal(rows, delivery.Rows());

        delivery.End();
        Assert.True(delivery.History.IsRestored(Rigid));
        var whole = Until(Journey[^1].At);
        Assert.Equal(whole.Rows(), delivery.Rows());
        Assert.Equal(Told(whole), Told(delivery));
        Assert.True(whole.History.LaneOf(Rigid)!.State.SameBits(delivery.History.LaneOf(Rigid)!.State));
    }

    [Fact]
    public void A_clean_stop_goes_on_without_a_second_run()
    {
        var delivery = Until(Half);
        delivery.Restart(killed: false);
        Assert.True(delivery.History.IsRestored(Rigid));
        Assert.Empty(delivery.History.ToBeCorrected);
        foreach (var input in Journey.Where(i => i.At > Half)) delivery.Take(input);
        delivery.Release(Rigid, Journey[^1].At);
        Assert.Equal(Told(Until(Journey[^1].At)), Told(delivery));
    }

    [Fact]
    public void A_track_of_a_clean_stop_is_not_taken_up_once_more_was_stepped()
    {
        var delivery = Until(Half);
        var (unit, pulse) = (new ByteWriter(), new ByteWriter());
        delivery.History.WriteUnit(Rigid, unit, withTrack: true);
        foreach (var input in Journey.Where(i => i.At > Half)) delivery.Take(input);
        delivery.Release(Rigid, Journey[^1].At);
        delivery.History.WritePulse(Rigid, pulse);
        Assert.InRange(pulse.Written.Length, 40, 64);
        var restored = new FleetHistory(delivery.Archive, Traffic.Settings);
        var fromPulse = new ByteReader(pulse.Written);
        var fromUnit = new ByteReader(unit.Written);
        Assert.True(restored.ReadPulse(Rigid, ref fromPulse));
        Assert.True(restored.ReadUnit(Rigid, ref fromUnit));
        restored.Settle(Rigid);
        Assert.False(restored.IsRestored(Rigid));
        Assert.NotNull(restored.MarkOf(Rigid));
    }

    [Fact]
    public void A_step_that_breaks_leaves_nothing_behind_and_is_made_good()
    {
        var isBroken = false;
        var delivery = Delivery.Begin(Traffic.Settings with { Setup = m => isBroken ? throw new InvalidOperationException("broken") : Traffic.SetupOf(m) });
        foreach (var input in Journey) delivery.Take(input);
        delivery.Take(new SettingsVersion(Rigid, new Moment(Half), 2));
        delivery.Release(Rigid, Half - 60_000);
        var snapshots = delivery.Archive.Snapshots;
        isBroken = true;
        var change = new HistoryChange();
        Assert.Throws<InvalidOperationException>(() => delivery.History.Release(Rigid, Journey[^1].Reading.At, change));
        isBroken = false;
        Assert.False(delivery.History.IsRestored(Rigid));
        delivery.Release(Rigid, Journey[^1].At);
        Assert.Equal(snapshots, delivery.Archive.Snapshots);
        delivery.End();
        var whole = Delivery.Begin(Traffic.Settings);
        foreach (var input in Journey) whole.Take(input);
        whole.Take(new SettingsVersion(Rigid, new Moment(Half), 2));
        whole.End();
        Assert.Equal(whole.Rows(), delivery.Rows());
        Assert.Equal(Told(whole), Told(delivery));
    }

    [Fact]
    public void Words_of_more_than_three_days_ago_are_not_believed()
    {
        var archive = new MemoryArchive();
        var at = Journey[^1].Reading.At;
        var lift = new Reading(at.Plus(-StandingWord.LooksBack), ReadingKind.Lift, 0, (double)LiftReport.Raised);
        var ride = new Reading(at.Plus(-StandingWord.LooksBack + 0.001), ReadingKind.Condition, (ushort)ConditionKey.RideHeight, 1);
        archive.Add(Rigid, lift);
        archive.Add(Rigid, ride);
        Assert.Equal([ride], archive.WordsAt(Rigid, at));
        Assert.Equal([lift, ride], archive.WordsAt(Rigid, at.Plus(-0.001)));
        Assert.Equal(72 * 3600, StandingWord.LooksBack);
    }

    private static long Half => Journey[Journey.Count / 2].At;

    private static Delivery Until(long end)
    {
        var delivery = Delivery.Begin(Traffic.Settings);
        foreach (var input in Journey.Where(i => i.At <= end)) delivery.Take(input);
        delivery.Release(Rigid, end);
        return delivery;
    }

    private static List<string> Told(Delivery delivery) => [.. delivery.Said.Select(o => o is LaneOutput.Episode e ? $"{e.At} {e.Key} {e.Change} {e.Level} {e.ToldWith}" : $"{o.At} {o.GetType().Name}")];
}

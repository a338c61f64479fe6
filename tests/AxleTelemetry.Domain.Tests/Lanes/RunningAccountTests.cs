using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>What a lane adds up on the road.</summary>
public sealed class RunningAccountTests
{
    private const string Laden = """
        vehicle tractor-4x2
        vehicle semi-tridem-lift-first
        calibration tickets
        trip national
        seed 31

        journey
        lift trailer-1 lowered
        load 20.0 t at 6.0 m in 10 min
        stop 5 min
        drive 30 km at 60 km/h
        stop 3 min

        findings
        """;

    [Fact]
    public void Every_metre_is_in_it_once_on_the_road_or_raised()
    {
        var (lane, told) = Play(Laden);
        var last = told[^1];
        Assert.Equal(lane.State.Motion.Metres, last.Unit.Metres, 3);
        Assert.InRange(last.Unit.Metres, 29_900, 30_100);
        Assert.All(last.Axles, a => Assert.Equal(last.Unit.Metres, a.GroundMetres + a.RaisedMetres, 3));
        Assert.True(last.Unit.KnownMetres > 0.99 * last.Unit.Metres);
        // Loads times distance are the gross times distance.
        Assert.InRange(last.Axles.Sum(a => a.LoadMetres) / last.Unit.GrossMetres, 0.999, 1.001);
        Assert.InRange(last.Axles.Sum(a => a.TyreJoules) / last.Unit.Driven.TyreJoules, 0.999999, 1.000001);
    }

    [Fact]
    public void Bends_scrub_and_the_noise_of_headings_does_not()
    {
        var straight = Play(Laden).Told[^1].Unit;
        var bends = Play(Laden.Replace("drive 30 km at 60 km/h", "drive 30 km at 60 km/h through bends", StringComparison.Ordinal)).Told[^1].Unit;
        Assert.True(straight.CurveMetres > 0.9 * straight.Metres && bends.CurveMetres > 0.9 * bends.Metres);
        Assert.True(bends.Driven.ScrubJoules > 0);
        Assert.InRange(straight.Driven.ScrubJoules / bends.Driven.ScrubJoules, -0.05, 0.05);
    }

    [Fact]
    public void At_midnight_a_period_ends_and_nothing_is_lost()
    {
        var whole = Play(Laden).Told[^1];
        // It sets out at 06:15 and rolls for half an hour: put midnight into the middle.
        var (_, told) = Play(Laden, 17.5 * 3600);
        var periods = told.GroupBy(t => t.Since).Select(g => g.Last()).ToList();
        Assert.Equal(2, periods.Count);
        Assert.Equal(0, periods[1].Since.UnixMilliseconds % 86_400_000);
        Assert.All(periods, p => Assert.True(p.Unit.Metres > 3_000, $"{p.Unit.Metres} m"));
        var sum = periods[0].Unit.Plus(periods[1].Unit);
        Assert.Equal(whole.Unit.Metres, sum.Metres, 3);
        Assert.InRange(sum.Driven.TyreJoules / whole.Unit.Driven.TyreJoules, 0.998, 1.002);
    }

    [Fact]
    public void With_the_axle_lowered_for_nothing_the_cheapest_way_is_to_raise_it()
    {
        var light = Laden.Replace("load 20.0 t", "load 8.0 t", StringComparison.Ordinal);
        var lowered = Play(light).Told[^1];
        Assert.True(lowered.Axles[2].LoweredForNothing.Metres > 0.9 * lowered.Unit.Metres);
        Assert.True(lowered.Axles[2].LoweredForNothing.TurningMetres > 0.9 * lowered.Unit.Metres);
        Assert.Equal(lowered.Unit.Lowered, lowered.Unit.Driven);
        var raised = Play(light.Replace("lift trailer-1 lowered", "lift trailer-1 raised", StringComparison.Ordinal)).Told[^1];
        Assert.Equal(0, raised.Axles[2].LoweredForNothing.Metres);
        // What raising saves is what lowering wasted, on the same road.
        Assert.InRange(raised.Axles[2].Saved.TyreJoules / lowered.Axles[2].LoweredForNothing.TyreJoules, 0.97, 1.03);
        Assert.Equal(raised.Unit.Cheapest, raised.Unit.Driven);
    }

    [Fact]
    public void Lifts_are_counted_and_timed()
    {
        var lane = Lane(Script(Laden));
        var outputs = new List<LaneOutput>();
        var at = new Moment(1_772_432_045_000);
        void Say(double seconds, LiftReport report) => lane.Step(1, new Reading(at.Plus(seconds), ReadingKind.Lift, 0, (double)report), outputs);
        Say(0, LiftReport.Lowered);
        Say(10, LiftReport.Moving);
        Say(17, LiftReport.Raised);
        Say(60, LiftReport.Moving);
        Say(65.5, LiftReport.Lowered);
        Say(100, LiftReport.Raised);
        // From carrying to relieved nothing is lifted.
        Say(200, LiftReport.Loaded);
        Say(210, LiftReport.Unloaded);
        var axle = lane.State.AxleTallies[2];
        Assert.Equal((2.0, 1.0, 7.0), (axle.Raises, axle.TimedRaises, axle.RaiseSeconds));
        Assert.Equal((2.0, 1.0, 5.5), (axle.Lowers, axle.TimedLowers, axle.LowerSeconds));
    }

    [Fact]
    public void A_movement_whose_beginning_or_end_was_not_seen_is_not_timed()
    {
        var lane = Lane(Script(Laden));
        var outputs = new List<LaneOutput>();
        var at = new Moment(1_772_432_045_000);
        void Say(double seconds, LiftReport report) => lane.Step(1, new Reading(at.Plus(seconds), ReadingKind.Lift, 0, (double)report), outputs);
        // Under way at the first word: from where nobody knows.
        Say(0, LiftReport.Moving);
        Say(5, LiftReport.Raised);
        // The unit goes off while it is let down, and comes back in the morning.
        Say(60, LiftReport.Moving);
        Say(36_000, LiftReport.Lowered);
        Say(36_100, LiftReport.Moving);
        Say(36_108, LiftReport.Raised);
        var axle = lane.State.AxleTallies[2];
        Assert.Equal((1.0, 1.0, 8.0), (axle.Raises, axle.TimedRaises, axle.RaiseSeconds));
        Assert.Equal((1.0, 0.0, 0.0), (axle.Lowers, axle.TimedLowers, axle.LowerSeconds));
    }

    [Fact]
    public void Where_each_side_has_its_circuit_the_heavier_one_is_told()
    {
        var rigid = Repository.Vehicle("rigid-6x2-tag")!;
        var drive = rigid.Sensors.Single(s => s.Key == "drive");
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([rigid with
        {
            Sensors = [drive with { Key = "left", Side = CircuitSide.Left }, drive with { Key = "right", Side = CircuitSide.Right }, .. rigid.Sensors.Where(s => s.Key != "drive")],
        }])).Combination;
        var lane = new Lane(LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared)));
        var (random, outputs, start) = (new SeededRandom(5), new List<LaneOutput>(), new Moment(1_772_432_045_000));
        for (var second = 0; second < 1_200; second++)
        {
            var at = start.Plus(second);
            foreach (var (sensor, kilopascals) in new[] { (0, 420.0), (1, 380), (2, 400) })
                lane.Step(0, new Reading(at, ReadingKind.Pressure, (ushort)sensor, kilopascals + random.Normal(3)), outputs);
            lane.Step(0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Heading, 87), outputs);
            lane.Step(0, new Reading(at, ReadingKind.Position, (ushort)PositionKey.Speed, 22), outputs);
        }

        var (left, right) = (drive.Handbook.At(420), drive.Handbook.At(380));
        var axle = lane.State.AxleTallies[1];
        Assert.True(axle.SidesMetres > 15_000, $"{axle.SidesMetres} m");
        Assert.Equal((left - right) / (left + right), axle.LeftMetres / axle.SidesMetres, 2);
        Assert.Equal(0, lane.State.AxleTallies[2].SidesMetres);
    }

    private static (Lane Lane, List<LaneOutput.Accounted> Told) Play(string journey, double later = 0)
    {
        var script = Script(journey);
        var (lane, outputs) = (Lane(script), new List<LaneOutput>());
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script))) lane.Step(body, reading with { At = reading.At.Plus(later) }, outputs);
        return (lane, [.. outputs.OfType<LaneOutput.Accounted>()]);
    }

    private static Lane Lane(JourneyScript script) =>
        new(new LaneSetup(script.Combination, script.Fits, c => MarginTable.For(script.Combination, c, Repository.Limits, script.Trip)));

    private static JourneyScript Script(string journey) => Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(journey, Repository.Vehicle)).Script;
}

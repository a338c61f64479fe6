using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>A trailer that nobody described: the simulator pulls a real one, the lane knows nothing of it but that there is one.</summary>
public sealed class StandInTrailerTests
{
    [Theory]
    [InlineData("tractor-4x2", "semi-tridem-lift-first", "0 t at 6.0 m")]
    [InlineData("tractor-4x2", "semi-tridem-lift-first", "9 t at 3.5 m")]
    [InlineData("tractor-4x2", "semi-tridem-lift-first", "22 t at 5.5 m")]
    [InlineData("tractor-6x2-pusher", "semi-bare", "0 t at 6.0 m")]
    [InlineData("tractor-6x2-pusher", "semi-bare", "15 t at 4.5 m")]
    [InlineData("tractor-6x2-pusher", "semi-bare", "24 t at 6.2 m")]
    public void Axles_of_the_tractor_stay_right_and_gross_is_stated_wide_enough(string tractor, string semi, string load)
    {
        var (lane, outputs, truth) = Play(tractor, semi, load);
        var view = lane.View();
        Assert.Equal(LoadStanding.Settled, view.Standing);
        foreach (var axle in view.Axles.Where(a => a.Part.Body == 0 && a.Load is not null))
            Assert.True(Math.Abs(axle.Load!.Value.Load.Mean - truth.Row(axle.Part.Index)) <= axle.Load.Value.Load.HalfWidth, $"axle {axle.Part.Index}: {axle.Load.Value.Load}, true {truth.Row(axle.Part.Index):0}");
        Assert.All(view.Axles.Where(a => a.Part.Body == 1), a => Assert.Equal(LoadBasis.Assumed, a.Basis));
        var gross = view.Gross!.Value;
        var real = truth.Axles.Sum();
        Assert.True(Math.Abs(gross.Load.Mean - real) <= gross.Load.HalfWidth, $"gross {gross.Load}, true {real:0}");
        Assert.True(gross.Load.HalfWidth > 2000, "nobody weighed it");
        Assert.Null(gross.Closest);
        // What is found of limits is of the tractor's own.
        Assert.DoesNotContain(outputs.OfType<LaneOutput.Episode>(), e => e.Key.Kind is FindingKind.Overload or FindingKind.CannotTell && e.Key.Margin.Body != 0);
        Assert.DoesNotContain(outputs.OfType<LaneOutput.Episode>(), e => e.Key.Kind is FindingKind.PayloadImplausible or FindingKind.LoweredForNothing or FindingKind.RaisedForNothing);
    }

    [Fact]
    public void It_is_told_once_and_asks_for_its_file()
    {
        var (lane, outputs, _) = Play("tractor-4x2", "semi-bare", "15 t at 4.5 m");
        var told = Assert.Single(outputs.OfType<LaneOutput.Episode>(), e => e.Key.Kind == FindingKind.TrailerUndescribed);
        Assert.Equal(EpisodeChange.Opened, told.Change);
        Assert.Equal("Trailer XX-99 has no description: stated as a semi-trailer with three axles, about 7 t empty, gross within tonnes only, none of its limits judged. Enter its file.",
            new Sentences(lane.Setup.Combination).Of(told));
    }

    [Fact]
    public void What_stands_in_follows_from_what_is_ahead_and_can_pull_what_is_behind()
    {
        var rigid = Repository.Vehicle("rigid-6x2-tag")! with { RearCoupling = new Coupling { Position = Quantities.Length.FromMetres(7) } };
        Assert.Equal([VehicleKind.Rigid, VehicleKind.CentreAxleTrailer], Kinds(("RT-01", rigid), ("XX-1", null)));
        Assert.Equal([VehicleKind.Tractor, VehicleKind.SemiTrailer, VehicleKind.CentreAxleTrailer], Kinds(("TR-04", Repository.Vehicle("tractor-4x2")), ("XX-1", null), ("XX-2", null)));
        Assert.Equal([VehicleKind.Tractor, VehicleKind.SemiTrailer, VehicleKind.SemiTrailer], Kinds(("TR-04", Repository.Vehicle("tractor-4x2")), ("XX-1", null), ("SB-07", Repository.Vehicle("semi-bare"))));
        // Whoever has nothing to couple to pulls nothing unknown either.
        Assert.IsType<CouplingResult.Impossible>(Combination.Couple(StandInTrailer.Fill([("RT-01", rigid with { RearCoupling = null }), ("XX-1", null)])));
    }

    private static VehicleKind[] Kinds(params (string, VehicleDescription?)[] row) =>
        [.. Assert.IsType<CouplingResult.Coupled>(Combination.Couple(StandInTrailer.Fill([.. row]))).Combination.Vehicles.Select(v => v.Kind)];

    private static (Lane Lane, List<LaneOutput> Outputs, TrueLoads Truth) Play(string tractor, string semi, string load)
    {
        var text = $"""
            vehicle {tractor}
            vehicle {semi}
            calibration tickets
            trip national
            seed 5

            journey
            load {load} in 10 min
            drive 40 km at 75 km/h

            findings
            """;
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Repository.Vehicle)).Script;
        var known = Assert.IsType<CouplingResult.Coupled>(Combination.Couple(StandInTrailer.Fill([(tractor, script.Combination.Vehicles[0]), ("XX-99", null)]))).Combination;
        var lane = new Lane(new LaneSetup(known, [.. script.Fits.Take(known.Sensors.Length)], c => MarginTable.For(known, c, Repository.Limits, script.Trip)));
        var outputs = new List<LaneOutput>();
        var moments = JourneyPlayer.Play(script).ToList();
        foreach (var (body, reading) in JourneyReadings.Of(script, moments))
            if (body == 0)
                lane.Step(body, reading, outputs);
        return (lane, outputs, Assert.IsType<StaticsResult.Stands>(DenseStatics.Settle(script.Truth, moments[^1].Configuration, [.. moments[^1].Payload], default)).Loads);
    }
}

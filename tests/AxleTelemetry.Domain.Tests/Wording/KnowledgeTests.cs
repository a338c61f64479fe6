using System.Collections.Immutable;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Domain.Tests.Wording;

/// <summary>What can be known from which sensors, row by row of the statics: how many directions of the payload the circuits feel.</summary>
public class KnowledgeTests
{
    private static VehicleDescription Example(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "examples", name)))).Vehicle;

    private static Combination Couple(params string[] names) => LimitFleet.Couple([.. names.Select(Example)]);

    private static (Reach Reach, KnowledgeSentences Words, LoadMap Map) Known(Combination combination, ImmutableArray<int> sensors, Configuration configuration = default)
    {
        var map = new LoadModel(combination).Map(configuration)!;
        return (new Reach(combination, map, sensors), new KnowledgeSentences(combination, map, sensors), map);
    }

    [Fact]
    public void A_rigid_sensed_at_the_rear_only_knows_steer_and_gross_by_place_alone()
    {
        var combination = Couple("rigid-6x2-tag.json");
        var (reach, words, map) = Known(combination, [0, 1]);
        Assert.Equal([Knowledge.ByPlace, Knowledge.Sensed, Knowledge.Sensed], Enumerable.Range(0, 3).Select(reach.OfAxle));
        Assert.Equal(Knowledge.ByPlace, reach.Of(LinearForm.OfGross(map, combination).Level));
        Assert.Equal(1, reach.Directions);
        Assert.StartsWith("Known only through where the payload sits, not from pressure: axle 1 (steer) and the gross mass. A sensor on axle 1 (steer)", words.All()[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_tractor_and_semi_trailer_sensed_at_drive_and_bogie_know_everything_with_no_redundancy()
    {
        var combination = Couple("tractor-4x2.json", "semi-tridem-lift-first.json");
        var (reach, words, map) = Known(combination, [0, 1]);
        Assert.Equal([Knowledge.Inferred, Knowledge.Sensed, Knowledge.SharedCircuit, Knowledge.SharedCircuit, Knowledge.SharedCircuit], Enumerable.Range(0, 5).Select(reach.OfAxle));
        Assert.Equal(Knowledge.Inferred, reach.Of(LinearForm.OfGross(map, combination).Level));
        Assert.Contains("Sensor bogie of ST-06 feels trailer axle 1, trailer axle 2 and trailer axle 3 together: their mean is measured, the split between them is assumed.", words.All());
        Assert.Contains("The sensors do not check one another: only a weighing finds an error in a calibration.", words.All());
    }

    [Fact]
    public void With_a_bare_trailer_the_tractor_is_known_and_the_bogie_is_not()
    {
        var combination = Couple("tractor-4x2.json", "semi-bare.json");
        var (reach, words, map) = Known(combination, [0]);
        Assert.Equal([Knowledge.Inferred, Knowledge.Sensed, Knowledge.ByPlace, Knowledge.ByPlace, Knowledge.ByPlace], Enumerable.Range(0, 5).Select(reach.OfAxle));
        Assert.Equal(Knowledge.Inferred, reach.Of(map.Level(combination.CouplingRow(1))));
        Assert.Equal(Knowledge.ByPlace, reach.Of(LinearForm.OfGross(map, combination).Level));
        Assert.Contains("A sensor on trailer axle 1, or weighing, would settle it.", words.All()[0], StringComparison.Ordinal);
    }

    [Fact]
    public void With_the_trailer_bogie_alone_kingpin_and_tractor_are_known_by_place()
    {
        var combination = Couple("tractor-4x2.json", "semi-tridem-lift-first.json");
        var (reach, words, map) = Known(combination, [1]);
        Assert.Equal([Knowledge.ByPlace, Knowledge.ByPlace], Enumerable.Range(0, 2).Select(reach.OfAxle));
        Assert.Equal(Knowledge.ByPlace, reach.Of(map.Level(combination.CouplingRow(1))));
        Assert.Contains("A pressure of sensor drive of TR-04 would settle it.", words.All()[0], StringComparison.Ordinal);
    }

    [Fact]
    public void One_settled_reading_gives_back_the_payload_that_made_it()
    {
        var combination = Couple("tractor-4x2.json", "semi-tridem-lift-first.json");
        var setup = LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c));
        var raised = new Configuration(1 << 2);
        var stated = LoadInHand.FromPayload(setup, raised, [(Mass.FromKilograms(15_000), Length.FromMetres(5))])!;
        var map = setup.Model.Map(stated.Present)!;
        (int, Pressure)[] pressures = [.. combination.Sensors.Select(s =>
        {
            var axle = s.Axles.First(a => raised[a] == AxleState.Loaded);
            var sprung = map.Load(axle, stated.Payload.State) - combination.Axles[axle].Axle.Unsprung.Kilograms;
            return (s.Index, Pressure.FromKilopascals((sprung - s.Sensor.Handbook.OffsetKilograms) / s.Sensor.Handbook.KilogramsPerKilopascal));
        })];
        var read = LoadInHand.FromPressures(setup, raised, pressures)!;
        // The prior pulls a little: two sensors leave it next to nothing to say.
        Assert.Equal(15_000, read.Payload.State[0], 150.0);
        Assert.Equal(5, read.Payload.State[1] / read.Payload.State[0], 0.1);
    }

    [Fact]
    public void A_circuit_of_a_regulated_axle_tells_nothing_of_the_payload_and_spoils_nothing()
    {
        var combination = Couple("rigid-8x4-regulated-lift.json");
        var setup = LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c));
        var drive = (0, Pressure.FromKilopascals(500));
        var alone = LoadInHand.FromPressures(setup, default, [drive])!;
        var both = LoadInHand.FromPressures(setup, default, [drive, (1, Pressure.FromKilopascals(500))])!;
        Assert.Equal(alone.Payload.State[0], both.Payload.State[0], 1e-6);
        Assert.True(double.IsFinite(both.Payload.State[0]));
        Assert.False(Known(combination, [0, 1]).Reach.IsRedundant);
        Assert.True(Known(Couple("rigid-6x2-tag.json"), [0, 1]).Reach.IsRedundant);
    }
}

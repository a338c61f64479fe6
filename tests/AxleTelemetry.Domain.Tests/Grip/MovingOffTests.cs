using AxleTelemetry.Domain.Grip;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Statics;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Grip;

public sealed class MovingOffTests
{
    private const ulong Seed = 71;

    /// <summary>
    /// By the independent solve on the steepest grade: what the driven tyres can pull is what the grade and the tyres ask for; a little steeper it is not. Its
    /// slope is tau over the load's own cosine, so grade itself is handed in.
    /// </summary>
    [Theory]
    [InlineData("rigid-6x2-tag.json", 9000)]
    [InlineData("rigid-6x2-pusher.json", 9000)]
    [InlineData("tractor-4x2.json+semi-tridem-lift-first.json", 20_000)]
    [InlineData("tractor-6x2-pusher.json+semi-tridem-lift-first.json", 20_000)]
    public void On_the_steepest_grade_grip_is_just_enough_by_the_independent_solve(string files, double payload)
    {
        var combination = Fleet.Couple([.. files.Split('+').Select(Fleet.Example)]);
        var (model, truth, random) = (new LoadModel(combination), TrueCombination.AsDescribed(combination), new SeededRandom(Seed));
        foreach (var map in model.LiftConfigurations().ToList())
        {
            double[] state = [payload, payload * (combination.Bodies[^1].Vehicle.LoadSpace!.Centre.Metres + random.Between(-0.5, 0.5))];
            if (model.MapAt(map.Configuration, state) is null) continue;
            foreach (var surface in RoadSurface.Usual)
            {
                var reach = MovingOff.Of(combination, map, state).Steepest(surface.Friction);
                Assert.Equal(GradeEnd.Grip, reach.End);
                Assert.InRange(Math.Abs(Spare(combination, truth, (map.Configuration, state), (surface.Friction, reach.Grade))), 0, 60);
                Assert.True(Spare(combination, truth, (map.Configuration, state), (surface.Friction, reach.Grade + 0.02)) < -60, $"seed {Seed}");
            }
        }
    }

    /// <summary>Raising or relieving a tag puts load on the driving axle and takes it off the steer axle (common practice: 1.0 to 1.6 t off at 12 to 15 t).</summary>
    [Fact]
    public void Raising_or_relieving_a_tag_loads_the_drive_axle_and_relieves_the_steer_axle()
    {
        var combination = Fleet.Couple([Fleet.Example("rigid-6x2-tag.json")]);
        var model = new LoadModel(combination);
        double[] state = [12_000, 12_000 * 3.8];
        MovingOff At(Configuration c) => MovingOff.Of(combination, model.MapAt(c, state)!, state);
        var (down, up, relieved) = (At(default), At(new Configuration(0b100)), At(default(Configuration).With(2, AxleState.Unloaded)));
        Assert.InRange(down.Steer - up.Steer, 1000, 1700);
        Assert.True(up.Drive > down.Drive + 3000);
        Assert.True(relieved.Drive > down.Drive + 2000 && relieved.Drive < up.Drive);
        Assert.True(relieved.Steer < down.Steer && relieved.Steer > up.Steer);
        Assert.True(up.Steepest(0.2).Grade > down.Steepest(0.2).Grade + 0.03);
    }

    [Fact]
    public void Where_the_front_would_lift_first_it_says_so()
    {
        var reach = new MovingOff(10_000, 5_000, 500, -5_000, 12_000, 0.006).Steepest(0.7);
        Assert.Equal((GradeEnd.FrontLifts, 0.1), (reach.End, Math.Round(reach.Grade, 9)));
    }

    [Fact]
    public void The_moving_off_aid_has_the_ceiling_that_the_lifts_maker_states()
    {
        var tag = Fleet.Example("rigid-6x2-tag.json").Axles[2];
        Assert.Equal(14_950, MovingOff.Aid(tag, Mass.FromKilograms(11_500))!.Value.Kilograms, 6);
        Assert.Null(MovingOff.Aid(tag with { Lift = new Lift() }, Mass.FromKilograms(11_500)));
    }

    /// <summary>What grip leaves over, kg.</summary>
    private static double Spare(Combination combination, TrueCombination truth, (Configuration Configuration, double[] State) load, (double Friction, double Grade) road)
    {
        var loads = Assert.IsType<StaticsResult.Stands>(DenseStatics.Solve(truth, load.Configuration, load.State, new RoadMotion(road.Grade, 0, Rolling: true))).Loads;
        double drive = 0, gross = 0, rolling = 0;
        foreach (var part in combination.Axles)
        {
            var kilograms = loads.Row(part.Index);
            gross += kilograms;
            rolling += kilograms * part.Axle.Tyres.RollingResistance / 1000;
            if (part.Axle.Role == AxleRole.Drive) drive += kilograms;
        }

        return road.Friction * drive - gross * road.Grade - rolling;
    }
}

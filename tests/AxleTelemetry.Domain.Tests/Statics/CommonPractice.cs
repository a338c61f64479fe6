using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>
/// Magnitudes that the trade knows, on vehicles whose geometry is common practice and chosen here: they check size and
/// sign, not digits.
/// </summary>
public sealed class CommonPractice
{
    // Common practice: 4x2 tractor, wheelbase 3.6 m, fifth wheel 0.6 m ahead of the drive axle and 1.15 m high, 7.6 t with
    // its sprung mass 0.95 m high; semi-trailer 32.4 t, bogie 7.7 m behind the kingpin, 30.15 t sprung at 2.0 m, axles of
    // 750 kg at 0.5 m. A 5 % climb at constant speed, slowly, without rolling resistance: steer -632, drive +474, bogie +158.
    [Fact]
    public void A_five_percent_climb_takes_load_off_the_steer_axle_and_puts_it_on_drive_and_bogie()
    {
        var tractor = Drawn.Vehicle(VehicleKind.Tractor, [Drawn.Axle("steer", AxleRole.Steer, 0, 750), Drawn.Axle("drive", AxleRole.Drive, 3.6, 1250)], 1);
        tractor = tractor with
        {
            Kerb = tractor.Kerb with { AxleLoads = [Mass.FromKilograms(5300), Mass.FromKilograms(2300)] },
            RearCoupling = Drawn.Coupling(3.0, 1.15),
        };
        var axles = Enumerable.Range(0, 3).Select(i => Drawn.Axle($"trailer-{i}", AxleRole.Trailer, 7.7 + 1.31 * (i - 1), 750)).ToArray();
        var semi = Drawn.Vehicle(VehicleKind.SemiTrailer, axles, 0);
        semi = semi with { Kerb = semi.Kerb with { AxleLoads = [.. axles.Select(a => a.Unsprung)] }, LoadSpace = Drawn.Anywhere(height: 2.0) };
        var combination = Drawn.Couple(tractor, semi);
        double[] state = [30_150, 30_150 * 4.9];

        var level = Drawn.ByBoth(combination, state);
        var climb = Drawn.ByBoth(combination, state, new RoadMotion(Math.Sin(Math.Atan(0.05)), 0, Rolling: false));

        var steer = climb[0] - level[0];
        var drive = climb[1] - level[1];
        var bogie = climb[2] + climb[3] + climb[4] - level[2] - level[3] - level[4];
        Assert.Equal(40_000, level.Take(5).Sum(), 1e-6);
        Assert.Equal(0, steer + drive + bogie, 1e-6);
        Assert.Equal(-632, steer, 20.0);
        Assert.Equal(474, drive, 20.0);
        Assert.Equal(158, bogie, 20.0);
    }

    // Common practice: air drag at 85 km/h takes 75 to 110 kg off the steer axle. 5.5 m2 (coefficient times area) for the
    // whole combination, acting at 1.9 to 2.2 m, a third to a half of it on the trailer's body; fifth wheel 1.15 m high.
    [Theory]
    [InlineData(5.5, 0, 2.0, 3.8)]
    [InlineData(4.0, 1.5, 2.1, 3.6)]
    public void Air_drag_takes_load_off_the_steer_axle(double onTractor, double onTrailer, double height, double wheelbase)
    {
        var tractor = Drawn.Vehicle(VehicleKind.Tractor, [Drawn.Axle("steer", AxleRole.Steer, 0), Drawn.Axle("drive", AxleRole.Drive, wheelbase)], 1) with
        {
            Fixtures = [Drawn.Fixed("tractor", 7600, 1.1)],
            RearCoupling = Drawn.Coupling(wheelbase - 0.6, 1.15),
            Drag = new AirDrag { AreaSquareMetres = onTractor, Height = Length.FromMetres(height) },
        };
        var semi = Drawn.Vehicle(VehicleKind.SemiTrailer, [Drawn.Axle("trailer", AxleRole.Trailer, 7.7)], 0) with
        {
            LoadSpace = Drawn.Anywhere(),
            Drag = new AirDrag { AreaSquareMetres = onTrailer, Height = Length.FromMetres(height) },
        };
        var combination = Drawn.Couple(tractor, semi);
        double[] state = [32_400, 32_400 * 4.9];

        var still = Drawn.ByBoth(combination, state);
        var fast = Drawn.ByBoth(combination, state, new RoadMotion(0, 85 / 3.6, Rolling: false));

        Assert.InRange(still[0] - fast[0], 75, 110);
    }

    // Common practice: 6x2 rigid, tag 1.35 m behind the drive axle with 40 % of the group's sprung load. Lowering the tag
    // adds 1.4 to 1.6 t to the steer axle at 12 to 15 t of payload, and it comes off the driving axle.
    [Theory]
    [InlineData(12_000, 4.4, 3.45)]
    [InlineData(13_500, 4.8, 3.75)]
    [InlineData(15_000, 5.2, 3.85)]
    public void Lowering_a_tag_loads_the_steer_axle(double payload, double wheelbase, double centre)
    {
        var truck = SixByTwo(Drawn.Axle("drive", AxleRole.Drive, wheelbase, 1250), Drawn.Axle("tag", AxleRole.Tag, wheelbase + 1.35, 700), liftable: 2);
        var combination = Drawn.Couple(truck);
        double[] state = [payload, payload * centre];

        var down = Drawn.ByBoth(combination, state);
        var up = Drawn.ByBoth(combination, state, configuration: new Configuration(Raised: 0b100));

        Assert.InRange(down[0] - up[0], 1400, 1600);
        Assert.True(down[1] < up[1]);
        Assert.Equal(down.Sum(), up.Sum(), 1e-6);
    }

    // Common practice: 6x2 rigid, pusher 1.35 m ahead of the drive axle with 40 % of the group's sprung load. Raising the
    // pusher adds 1.1 to 1.6 t to the steer axle at 12 to 15 t of payload.
    [Theory]
    [InlineData(12_000, 5.6, 4.3)]
    [InlineData(13_500, 5.6, 4.35)]
    [InlineData(15_000, 5.9, 4.5)]
    public void Raising_a_pusher_loads_the_steer_axle(double payload, double wheelbase, double centre)
    {
        var truck = SixByTwo(Drawn.Axle("pusher", AxleRole.Pusher, wheelbase - 1.35, 700), Drawn.Axle("drive", AxleRole.Drive, wheelbase, 1250), liftable: 1);
        var combination = Drawn.Couple(truck);
        double[] state = [payload, payload * centre];

        var down = Drawn.ByBoth(combination, state);
        var up = Drawn.ByBoth(combination, state, configuration: new Configuration(Raised: 0b010));

        Assert.InRange(up[0] - down[0], 1100, 1600);
        Assert.Equal(down.Sum(), up.Sum(), 1e-6);
    }

    /// <summary>Kerb 9.4 t: 4.9 t in front, 4.5 t on the rear group.</summary>
    private static VehicleDescription SixByTwo(Axle second, Axle third, int liftable)
    {
        Axle[] axles = [Drawn.Axle("steer", AxleRole.Steer, 0, 750), second, third];
        axles[liftable] = axles[liftable] with { Lift = new Lift() };
        double[] weights = [1, second.Role == AxleRole.Drive ? 0.6 : 0.4, third.Role == AxleRole.Drive ? 0.6 : 0.4];
        var rear = 4500 - second.Unsprung.Kilograms - third.Unsprung.Kilograms;
        var vehicle = Drawn.Vehicle(VehicleKind.Rigid, axles, 1, weights);
        return vehicle with
        {
            Kerb = vehicle.Kerb with
            {
                AxleLoads = [Mass.FromKilograms(4900), second.Unsprung + Mass.FromKilograms(weights[1] * rear), third.Unsprung + Mass.FromKilograms(weights[2] * rear)],
            },
            LoadSpace = Drawn.Anywhere(),
        };
    }
}

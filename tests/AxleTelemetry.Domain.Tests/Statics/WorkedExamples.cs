using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>
/// Textbook solutions, each a weak copy (seen in secondary or undated copies of the textbook). The unit of force carries
/// through, since statics are linear: where an example is in pounds or newtons, 'kilograms' here are those.
/// </summary>
public sealed class WorkedExamples
{
    private const double Foot = 0.3048;

    // Weak copy. Tractor 8 000 lb, its weight 9 ft ahead of the rear axle, wheelbase 14 ft; tank trailer 20 000 lb, its
    // weight 10 ft behind the hitch, axle 25 ft behind it; hitch above the rear axle.
    [Fact]
    public void Weak_copy_tractor_with_tank_trailer()
    {
        var tractor = Drawn.Vehicle(VehicleKind.Tractor, [Drawn.Axle("front", AxleRole.Steer, 0), Drawn.Axle("rear", AxleRole.Drive, 14 * Foot)], 1) with
        {
            Fixtures = [Drawn.Fixed("tractor", 8000, 5 * Foot)],
            RearCoupling = Drawn.Coupling(14 * Foot, 1.15),
        };
        var tank = Drawn.Vehicle(VehicleKind.SemiTrailer, [Drawn.Axle("trailer", AxleRole.Trailer, 25 * Foot)], 0) with { LoadSpace = Drawn.Anywhere() };

        var loads = Drawn.ByBoth(Drawn.Couple(tractor, tank), [20_000, 20_000 * 10 * Foot]);

        Assert.Equal(5142.86, loads[0], 0.005);
        Assert.Equal(14_857.14, loads[1], 0.005);
        Assert.Equal(8000, loads[2], 0.005);
        Assert.Equal(12_000, loads[3], 0.005);
    }

    // Weak copy. 42 140 N truck, 2.4 m ahead of B, with 15 680 N at 6.6954 m from B, wheelbase 5.2 m: 39 640 N and
    // 18 180 N, printed to four figures. B is the rear axle, so the second weight hangs ahead of the front axle.
    [Fact]
    public void Weak_copy_truck_with_a_weight_ahead_of_its_front_axle()
    {
        var truck = Drawn.Vehicle(VehicleKind.Rigid, [Drawn.Axle("A", AxleRole.Steer, 0), Drawn.Axle("B", AxleRole.Drive, 5.2)], 1) with
        {
            Fixtures = [Drawn.Fixed("truck", 42_140, 5.2 - 2.4)],
            LoadSpace = Drawn.Anywhere(),
        };

        var loads = Drawn.ByBoth(Drawn.Couple(truck), [15_680, 15_680 * (5.2 - 6.6954)]);

        Assert.Equal(39_640, loads[0], 5.0);
        Assert.Equal(18_180, loads[1], 5.0);
    }

    // Weak copy. 8 400 N at 2/3 m and 3 600 N at 1 m on a 2 m base: 7 400 and 4 600 N.
    [Fact]
    public void Weak_copy_two_weights_on_a_two_metre_base()
    {
        var beam = Drawn.Vehicle(VehicleKind.Rigid, [Drawn.Axle("near", AxleRole.Steer, 0), Drawn.Axle("far", AxleRole.Drive, 2)], 1) with
        {
            Fixtures = [Drawn.Fixed("first", 8400, 2.0 / 3)],
            LoadSpace = Drawn.Anywhere(),
        };

        var loads = Drawn.ByBoth(Drawn.Couple(beam), [3600, 3600 * 1.0]);

        Assert.Equal(7400, loads[0], 1e-6);
        Assert.Equal(4600, loads[1], 1e-6);
    }

    // Weak copy. Kingpin load = gross less trailer axles: 27 690 - 2 x 9 150 = 9 390 kg. Where the
    // axles stand is chosen here and must not matter.
    [Theory]
    [InlineData(6.5)]
    [InlineData(7.8)]
    public void Weak_copy_kingpin_load_is_what_the_trailers_axles_leave(double bogie)
    {
        var tractor = Drawn.Vehicle(VehicleKind.Tractor, [Drawn.Axle("front", AxleRole.Steer, 0), Drawn.Axle("rear", AxleRole.Drive, 3.6)], 1) with
        {
            RearCoupling = Drawn.Coupling(3.0, 1.15),
        };
        var axles = (Axle[])[Drawn.Axle("t1", AxleRole.Trailer, bogie - 0.65, 750), Drawn.Axle("t2", AxleRole.Trailer, bogie + 0.65, 750)];
        var semi = Drawn.Vehicle(VehicleKind.SemiTrailer, axles, 0) with { LoadSpace = Drawn.Anywhere() };
        // The trailer is its axles, 1 500 kg, and a load that leaves the rest of 2 x 9 150 kg to them.
        var payload = 27_690 - 1500.0;
        var massless = semi with { Kerb = semi.Kerb with { AxleLoads = [axles[0].Unsprung, axles[1].Unsprung] } };

        var loads = Drawn.ByBoth(Drawn.Couple(tractor, massless), [payload, (18_300 - 1500) * bogie]);

        Assert.Equal(9150, loads[2], 1e-6);
        Assert.Equal(9150, loads[3], 1e-6);
        Assert.Equal(9390, loads[4], 1e-6);
        Assert.Equal(9390, loads[0] + loads[1], 1e-6);
    }
}

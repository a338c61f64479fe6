using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Tests.Fleet;

public sealed class RandomTrafficTests
{
    [Fact]
    public void The_same_seed_gives_the_same_combinations()
    {
        var (first, second) = (new RandomTraffic(new SeededRandom(7)), new RandomTraffic(new SeededRandom(7)));
        for (var i = 0; i < 50; i++)
        {
            var (a, b) = (first.Combination(), second.Combination());
            Assert.Equal(a.Axles.Select(x => (x.Axle.Key, x.Axle.Position, x.Axle.Unsprung)), b.Axles.Select(x => (x.Axle.Key, x.Axle.Position, x.Axle.Unsprung)));
            Assert.Equal(first.Payload(a), second.Payload(b));
        }
    }

    [Fact]
    public void Every_kind_of_vehicle_and_axle_is_met()
    {
        var traffic = new RandomTraffic(new SeededRandom(1));
        var all = Enumerable.Range(0, 500).Select(_ => traffic.Combination()).ToList();
        var vehicles = all.SelectMany(c => c.Vehicles).ToList();

        Assert.Equal(Enum.GetValues<VehicleKind>(), vehicles.Select(v => v.Kind).Distinct().Order());
        Assert.Equal([2, 3, 4], AxlesOf(VehicleKind.Rigid));
        Assert.Equal([2, 3], AxlesOf(VehicleKind.Tractor));
        Assert.Equal([1, 2, 3], AxlesOf(VehicleKind.SemiTrailer));
        Assert.Equal([1, 2], AxlesOf(VehicleKind.CentreAxleTrailer));
        Assert.Equal([2, 3], AxlesOf(VehicleKind.DrawbarTrailer));
        Assert.Contains(vehicles, v => v.Axles.Any(a => a.RegulatedForce is not null));
        Assert.Contains(vehicles, v => v.Axles.Any(a => a.CeilingForce is not null));
        Assert.Contains(vehicles, v => v.Front is { Axles.Length: 2 } && v.Modes[0].OffsetKilograms[0] != 0);
        foreach (var law in Enum.GetValues<ShareLaw>()) Assert.Contains(vehicles, v => v.Rear.Law == law);

        IEnumerable<int> AxlesOf(VehicleKind kind) => vehicles.Where(v => v.Kind == kind).Select(v => v.Axles.Length).Distinct().Order();
    }

    [Fact]
    public void Unladen_and_with_all_axles_down_nearly_all_combinations_stand()
    {
        var traffic = new RandomTraffic(new SeededRandom(3));
        var standing = 0;
        for (var i = 0; i < 500; i++)
        {
            // Lifts with a force of their own are up on an empty vehicle.
            var combination = traffic.Combination();
            var regulated = combination.Axles.Where(a => a.Axle.RegulatedForce is not null).Aggregate(0u, (bits, a) => bits | 1u << a.Index);
            var truth = TrueCombination.AsDescribed(combination);
            if (DenseStatics.Settle(truth, new Configuration(regulated), new double[combination.StateSize], default) is StaticsResult.Stands) standing++;
        }

        Assert.InRange(standing, 475, 500);
    }

    [Fact]
    public void Drawn_truth_moves_the_loads_by_the_size_of_its_errors()
    {
        var random = new SeededRandom(5);
        var traffic = new RandomTraffic(random);
        double squares = 0;
        var rows = 0;
        while (rows < 2000)
        {
            var combination = traffic.Combination();
            var state = traffic.Payload(combination);
            var described = TrueCombination.AsDescribed(combination);
            var truth = described with { Vehicles = [.. combination.Vehicles.Select(v => TruthDraw.Vehicle(v, random.Fork()))] };
            if (DenseStatics.Solve(described, default, state, default) is not StaticsResult.Stands expected) continue;
            var actual = Assert.IsType<StaticsResult.Stands>(DenseStatics.Solve(truth, default, state, default));
            foreach (var (a, b) in actual.Loads.Axles.Zip(expected.Loads.Axles))
            {
                squares += (a - b) * (a - b);
                rows++;
            }
        }

        Assert.InRange(Math.Sqrt(squares / rows), 30, 300);
    }
}

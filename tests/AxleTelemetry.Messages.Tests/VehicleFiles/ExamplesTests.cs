using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

public sealed class ExamplesTests
{
    public static TheoryData<string> All => [.. Examples.Names];

    [Theory, MemberData(nameof(All))]
    public void An_example_is_accepted_without_any_warning(string name)
    {
        var result = VehicleFile.Parse(Examples.Bytes(name));
        Assert.Empty(result.Problems.Select(p => p.ToString()));
        Assert.IsType<VehicleFileResult.Accepted>(result);
    }

    [Theory, MemberData(nameof(All))]
    public void The_empty_vehicle_gives_back_its_kerb_weighing_within_one_per_cent(string name)
    {
        var vehicle = Examples.Vehicle(name);
        var loads = Loads(vehicle, RaisedAtKerb(vehicle), payload: 0, centre: 0);
        for (var i = 0; i < vehicle.Axles.Length; i++)
        {
            var kerb = vehicle.Kerb.AxleLoads[i].Kilograms;
            // Fuel and crew are usually more than what was aboard at that weighing.
            var more = vehicle.Service is { } service ? Math.Abs((service.Mean - vehicle.Kerb.ServiceAboard).Kilograms) : 0;
            Assert.Equal(kerb, loads[i], 0.01 * kerb + more);
        }
    }

    [Theory, MemberData(nameof(All))]
    public void A_full_load_in_the_middle_brings_the_vehicle_near_its_limits_and_over_none(string name)
    {
        var vehicle = Examples.Vehicle(name);
        if (vehicle.LoadSpace is not { } space) return;
        var loads = Loads(vehicle, raised: 0, space.Permitted.Kilograms, space.Centre.Metres);
        var use = vehicle.Axles.Select((a, i) => loads[i] / (a.Registered ?? a.Rating).Kilograms).ToImmutableArray();
        Assert.All(use, u => Assert.InRange(u, 0.6, 1.0));
        Assert.InRange(use.Max(), 0.90, 1.0);
    }

    private static uint RaisedAtKerb(VehicleDescription vehicle) =>
        vehicle.Kerb.AxleLoads.Select((load, i) => load.Kilograms == 0 ? 1u << i : 0).Aggregate(0u, (a, b) => a | b);

    /// <summary>Axle loads of one vehicle, coupled where it is a trailer.</summary>
    private static double[] Loads(VehicleDescription vehicle, uint raised, double payload, double centre)
    {
        var combination = Examples.Coupled(vehicle);
        var body = combination.Bodies[^1];
        var state = new double[combination.StateSize];
        if (body.StateIndex >= 0)
        {
            state[body.StateIndex] = payload;
            state[body.StateIndex + 1] = payload * centre;
        }

        var map = new LoadModel(combination).Map(new Configuration(raised << body.FirstAxle))!;
        return [.. vehicle.Axles.Select((_, i) => map.Load(body.FirstAxle + i, state))];
    }
}

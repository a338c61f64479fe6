using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>What rests on a circuit that feels one side only is never sure, through every coupling that carries.</summary>
public sealed class OneSidedRuleTests
{
    private static readonly VehicleDescription Tractor = Fleet.Example("tractor-4x2.json"), Semi = Fleet.Example("semi-tridem-lift-first.json");

    [Fact]
    public void A_trailer_without_a_circuit_is_known_by_what_it_puts_on_its_tractor()
    {
        var bare = Setup(OneSided(Tractor), Semi with { Sensors = [] });
        Assert.Equal((Level.Likely, Level.Likely, Level.Likely), (bare.MostSure(0), bare.MostSure(1), bare.MostSure(-1)));
        var own = Setup(OneSided(Tractor), Semi);
        Assert.Equal((Level.Likely, Level.Surely, Level.Likely), (own.MostSure(0), own.MostSure(1), own.MostSure(-1)));
    }

    [Fact]
    public void It_reaches_forward_through_a_trailer_that_rests_on_another()
    {
        var coupled = Semi with { RearCoupling = new Coupling { Position = Semi.Axles[2].Position } };
        var setup = Setup(Tractor, coupled, OneSided(Semi) with { Id = "ST-07" });
        Assert.Equal((Level.Likely, Level.Likely, Level.Likely), (setup.MostSure(0), setup.MostSure(1), setup.MostSure(2)));
    }

    private static VehicleDescription OneSided(VehicleDescription vehicle) => vehicle with { Sensors = [.. vehicle.Sensors.Select(s => s with { Side = CircuitSide.Left })] };

    private static LaneSetup Setup(params VehicleDescription[] vehicles)
    {
        var combination = Fleet.Couple(vehicles);
        return LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c));
    }
}

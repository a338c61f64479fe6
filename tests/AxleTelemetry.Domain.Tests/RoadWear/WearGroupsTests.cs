using AxleTelemetry.Domain.RoadWear;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.RoadWear;

public sealed class WearGroupsTests
{
    private static readonly Combination Unit = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6^ A7.31 A8.62^"));

    private static readonly double[] Loads = [6_500, 10_500, 7_000, 7_100, 7_200];

    [Fact]
    public void Neighbours_that_are_loaded_together_are_one_group() => Assert.Equal(
        [new WearGroup(0b00001, 1, 6_500), new WearGroup(0b00010, 1, 10_500), new WearGroup(0b11100, 3, 21_300)], Find(default));

    [Fact]
    public void A_raised_axle_leaves_a_tandem() =>
        Assert.Equal(new WearGroup(0b11000, 2, 14_300), Find(new Configuration(Raised: 0b00100))[^1]);

    /// <summary>What is left of a tridem without its middle stands 2.62 m apart.</summary>
    [Fact]
    public void Axles_too_far_apart_are_single() =>
        Assert.Equal(4, Find(new Configuration(Raised: 0b01000)).Length);

    [Fact]
    public void A_relieved_axle_stands_for_itself() => Assert.Equal(
        [new WearGroup(0b00100, 1, 7_000), new WearGroup(0b11000, 2, 14_300)], Find(new Configuration(Raised: 0, Unloaded: 0b00100))[2..]);

    [Fact]
    public void The_equation_knows_no_group_of_four()
    {
        var four = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.6"), LimitFleet.Semi("A6 A7.3 A8.6 A9.9"));
        Span<WearGroup> groups = new WearGroup[8];
        var count = WearGroups.Find(four, default, [6_500, 10_500, 7_000, 7_000, 7_000, 7_000], groups);
        Assert.Equal([1, 1, 3, 1], groups[..count].ToArray().Select(g => g.Count));
    }

    [Fact]
    public void A_pass_is_the_sum_of_its_groups_and_of_its_axles()
    {
        var pass = WearGroups.Pass(Unit, default, Loads, new Pavement());
        Assert.Equal(Find(default).Sum(g => g.Aashto(new Pavement())), pass.Aashto, 12);
        Assert.Equal(Loads.Sum(l => AxleEquivalence.FourthPower(l)), pass.FourthPower, 12);
    }

    /// <summary>Common practice: lifting saves fuel and costs the road, as the same load stands on fewer axles.</summary>
    [Fact]
    public void Lifting_wears_the_road_more()
    {
        var lowered = WearGroups.Pass(Unit, default, Loads, new Pavement());
        var raised = WearGroups.Pass(Unit, new Configuration(Raised: 0b00100), [6_500, 10_500, 0, 10_650, 10_650], new Pavement());
        Assert.True(raised.Aashto > lowered.Aashto && raised.FourthPower > lowered.FourthPower);
    }

    private static WearGroup[] Find(Configuration configuration)
    {
        var groups = new WearGroup[Unit.Axles.Length];
        return groups[..WearGroups.Find(Unit, configuration, Loads, groups)];
    }
}

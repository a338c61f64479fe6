using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Grip;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Tests.Vehicle;

/// <summary>What is called right goes by rolling; where money says another, the page says why.</summary>
public sealed class CheaperThanRightTests
{
    private static readonly ConfigurationPlan Down = Position(0), Raised = Position(2), Both = Position(6);

    [Fact]
    public void Where_money_and_rolling_are_least_in_one_position_nothing_is_said() => Assert.Null(Picture(Down, (Down, 20), (Raised, 21)).CheaperThanRight);

    [Fact]
    public void Where_another_costs_less_it_is_named_with_by_how_much()
    {
        var cheaper = Picture(Raised, (Down, 20), (Raised, 21.5))!.CheaperThanRight!.Value;
        Assert.Equal((Down, 1.5), (cheaper.Position, cheaper.Less));
    }

    [Fact]
    public void What_is_not_permitted_or_would_be_set_down_again_is_no_choice()
    {
        var forbidden = Both with { Verdicts = [new Verdict(new Margin { Key = default, Weights = [], Constant = 1, Limit = 1, Source = new LimitSource("", "", DateOnly.MinValue, LimitStatus.VehiclePapers), Standing = MarginStanding.Law }, new Estimated(100, 1), 1)] };
        Assert.Null(Picture(Raised, (Raised, 21), (forbidden, 10)).CheaperThanRight);
        Assert.Null(Picture(Raised, (Raised, 21), (Both with { SetDown = [1] }, 10)).CheaperThanRight);
    }

    private static ConfigurationPlan Position(uint raised) => new(new Configuration(raised), [], new RollingCost(0, 0), new MovingOff(0, 0, 0, 0, 0, 0), []);

    private static VehiclePicture Picture(ConfigurationPlan right, params (ConfigurationPlan Position, double Money)[] all) => new(new Moment(0), new VehicleGlance(new("own", "RT-01"), "", "", VehicleKind.Rigid, Condition.Within), null)
    {
        Plan = new LoadPlan([.. all.Select(p => p.Position)], right, []),
        Costs = [.. all.Select(p => new DrivenCost(p.Position.Configuration, new Estimated(p.Money, 1), new Estimated(0, 0), null, null))],
    };
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Domain.Tests.Wording;

public class SentencesTests
{
    private static readonly Sentences Rigid = Said.Of(Said.Rigid);
    private static readonly Configuration Down = default;
    private static readonly Configuration Up = new(4);

    [Fact]
    public void An_overload_says_load_excess_limit_how_sure_and_what_to_do()
    {
        var lower = new Remedy.SetAxles([2], [], Down, Said.Mass(MarginKind.Axle, 1, 11_500, -1100, 255), []);
        Assert.Equal(
            "Axle 2 (drive): 12.4 t, give or take 0.4 t; 0.9 t over 11.5 t (sure). Lower axle 3 (tag): then at most 10.9 t of 11.5 t on axle 2 (drive).",
            Rigid.Of(Said.Overload(Said.Mass(MarginKind.Axle, 1, 11_500, 940, 200), EpisodeChange.Opened, Level.Surely, lower)));
    }

    [Theory]
    [InlineData(MarginKind.Axle, 0, "Axle 1 (steer): 8.5 t, give or take 0.6 t; 0.5 t over 8.0 t (likely).")]
    [InlineData(MarginKind.Group, 1, "Rear group: 8.5 t, give or take 0.6 t; 0.5 t over 8.0 t (likely).")]
    [InlineData(MarginKind.Gross, -1, "Gross: 8.5 t, give or take 0.6 t; 0.5 t over 8.0 t (likely).")]
    [InlineData(MarginKind.CombinationGross, -1, "Gross combination mass: 8.5 t, give or take 0.6 t; 0.5 t over 8.0 t (likely).")]
    [InlineData(MarginKind.AxleRating, 2, "Axle 3 (tag): 8.5 t, give or take 0.6 t; 0.5 t over its rating of 8.0 t (likely).")]
    [InlineData(MarginKind.TyreRating, 1, "Tyres of axle 2 (drive): 8.5 t, give or take 0.6 t; 0.5 t over what they may carry, 8.0 t (likely).")]
    public void Every_kind_of_mass_has_its_words(MarginKind kind, int element, string expected) =>
        Assert.Equal(expected, Rigid.Over(Said.Mass(kind, element, 8000, 520, 300), Level.Likely));

    [Fact]
    public void Shares_are_told_in_per_cent_and_the_house_rule_as_what_it_is()
    {
        Assert.Equal("Driving axles carry 22 %, give or take 2 %, of the mass; 25 % needed, 0.9 t too little (sure).", Rigid.Over(Said.Share(MarginKind.DrivingShare, 0.25, 900, 300), Level.Surely));
        Assert.Equal("Light steer axle: 18 %, give or take 2 %, of the vehicle's mass; house rule 20 %, 0.6 t too little (likely).", Rigid.Over(Said.Share(MarginKind.SteeringShare, 0.20, 600, 300), Level.Likely));
        Assert.Equal("Cannot tell whether the driving share reaches 25 %: 23 %, give or take 6.5 %. Weigh it or fit a sensor.", Rigid.CannotTell(Said.Share(MarginKind.DrivingShare, 0.25, 600, 1000)));
    }

    [Fact]
    public void Couplings_are_called_what_the_trade_calls_them()
    {
        var words = Said.Of(Said.Articulated);
        Assert.Equal("Fifth wheel: 12.4 t, give or take 0.2 t; 0.4 t over 12.0 t (sure).", words.Over(Said.Mass(MarginKind.CouplingMost, 1, 12_000, 400, 100), Level.Surely));
        Assert.Equal("Fifth wheel: 2.7 t, give or take 0.2 t; 0.3 t below the least, 3.0 t (sure).", words.Over(Said.Mass(MarginKind.CouplingLeast, 1, 3000, 300, 100), Level.Surely));
        Assert.Equal("trailer axle 1", words.Names.Axle(2));
        Assert.Equal("gross of TC-1", words.Names.Limited(new MarginKey(MarginKind.Gross, 0, -1)));
        Assert.Equal("trailer bogie", words.Names.Limited(new MarginKey(MarginKind.Group, 1, 1)));
    }

    [Fact]
    public void A_limit_with_more_than_one_decimal_is_given_whole_and_a_small_excess_is_not_told_as_nothing() =>
        Assert.Equal("Axle 1 (steer): 7.6 t, give or take 0.2 t; less than 0.1 t over 7.55 t (more likely than not).", Rigid.Over(Said.Mass(MarginKind.Axle, 0, 7550, 20, 100), Level.Near));

    [Fact]
    public void What_comes_off_is_rounded_up()
    {
        Assert.Equal("Take off 1.2 t at the rear (1.9 t to be sure).", Rigid.Of(new Remedy.TakeOff(0, LoadPlace.Rear, 8, 1101, 1810, Down), Down));
        Assert.Equal("Take off 1.2 t at the middle of the load (which makes it sure).", Rigid.Of(new Remedy.TakeOff(0, LoadPlace.Centre, 4, 1110, 1200, Down), Down));
        Assert.Equal("Take off 1.2 t at the front (no amount there makes it sure), and drive with axle 3 (tag) down.", Rigid.Of(new Remedy.TakeOff(0, LoadPlace.Front, 1, 1200, null, Down), Up));
        Assert.Equal("Move 2.0 t forward by 1.5 m, and drive with axle 3 (tag) raised.", Rigid.Of(new Remedy.Shift(0, -0.3, 2000, -1.42, Up)));
    }

    [Fact]
    public void Taking_off_and_moving_are_offered_in_one_sentence() => Assert.Equal(
        "Gross: 26.9 t, give or take 0.4 t; 0.9 t over 26.0 t (sure). Take off 1.0 t at the rear (1.4 t to be sure), or move 2.0 t rearward by 1.5 m, and drive with axle 3 (tag) down.",
        Rigid.Of(Said.Overload(Said.Mass(MarginKind.Gross, -1, 26_000, 930, 200), EpisodeChange.Opened, Level.Surely,
            new Remedy.Shift(0, 0.3, 2000, 1.5, Down), new Remedy.TakeOff(0, LoadPlace.Rear, 8, 930, 1322, Down))));

    [Fact]
    public void Raising_waits_for_the_next_stop_and_an_automatic_control_that_undoes_it_is_said()
    {
        var tight = Said.Mass(MarginKind.Gross, -1, 18_000, -200, 400);
        Assert.Equal(
            "At the next stop raise axle 3 (tag): then about 17.8 t of 18.0 t (gross), which is not sure. The automatic control may set axle 3 (tag) down again.",
            Rigid.Of(new Remedy.SetAxles([], [2], Up, tight, [2])));
        Assert.StartsWith("At the next stop lower axle 2 (drive) and raise axle 3 (tag):", Rigid.Of(new Remedy.SetAxles([1], [2], Up, tight, [])), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_nothing_helps_it_says_so_and_a_house_rule_asks_for_nothing()
    {
        var over = Said.Mass(MarginKind.Axle, 1, 11_500, 940, 200);
        Assert.EndsWith("No lift position, removal or shift of payload would end it.", Rigid.Of(Said.Overload(over, EpisodeChange.Opened, Level.Surely)), StringComparison.Ordinal);
        var house = Said.Share(MarginKind.SteeringShare, 0.20, 600, 300);
        house = house with { Margin = house.Margin with { Standing = MarginStanding.HouseRule } };
        Assert.EndsWith("too little (likely).", Rigid.Of(Said.Overload(house, EpisodeChange.Opened, Level.Likely)), StringComparison.Ordinal);
    }

    [Fact]
    public void An_episode_says_what_changed()
    {
        var over = Said.Mass(MarginKind.Axle, 1, 11_500, 940, 200);
        Assert.StartsWith("Now sure: Axle 2 (drive): 12.4 t", Rigid.Of(Said.Overload(over, EpisodeChange.Rose, Level.Surely)), StringComparison.Ordinal);
        Assert.StartsWith("No longer sure: Axle 2 (drive): 12.4 t", Rigid.Of(Said.Overload(over, EpisodeChange.Fell, Level.Likely)), StringComparison.Ordinal);
        Assert.Equal("Ended: axle 2 (drive) is within its limit, about 11.3 t of 11.5 t on axle 2 (drive), which is not sure.",
            Rigid.Of(Said.Overload(Said.Mass(MarginKind.Axle, 1, 11_500, -200, 200), EpisodeChange.Closed, Level.Clear)));
        var detail = Said.Excess(over);
        Assert.EndsWith("Drive 300 m to be sure.", Rigid.Of(new LaneOutput.Provisional(new Moment(0), new FindingKey(FindingKind.Overload, over.Margin.Key, -1), Level.Likely, detail)), StringComparison.Ordinal);
    }

    [Fact]
    public void An_axle_down_for_nothing_says_what_it_costs_with_and_without_hub_drag()
    {
        // 40 % of 43.0 MJ/kg x 0.832 kg/l = 14.31 MJ at the wheel from a litre: 57 N over 100 km is 0.40 l, 17 N of it 0.12 l.
        var idle = new FindingDetail.Idle([2], 17, 40, Said.Mass(MarginKind.Axle, 1, 11_500, -1500, 100));
        Assert.Equal(
            "Axle 3 (tag) is down for nothing: raised it saves 0.4 l/100 km (0.1 without hub drag), with at most 10.2 t of 11.5 t on axle 2 (drive). Raise it at the next stop.",
            Rigid.Of(Said.Episode(FindingKind.LoweredForNothing, 2, EpisodeChange.Opened, idle)));
    }

    [Fact]
    public void Where_it_cannot_be_told_it_says_what_would_help()
    {
        var wide = Said.Mass(MarginKind.Axle, 0, 8000, -400, 800);
        Assert.Equal("Cannot tell whether axle 1 (steer) is within 8.0 t: 7.6 t, give or take 1.6 t. Weigh it or fit a sensor.",
            Rigid.Of(new FindingKey(FindingKind.CannotTell, wide.Margin.Key, -1), Level.Likely, Said.Excess(wide)));
    }

    [Fact]
    public void A_lift_that_did_not_act_is_told_with_what_else_it_may_be() => Assert.Equal(
        "Axle 3 (tag) stayed up above 30 km/h with a limit surely passed. The automatic lowering did not act (44 %), the loads are estimated too high (33 %), or the axle is not up as reported (23 %). Look at the lift, then at the calibration.",
        Rigid.Of(Said.Episode(FindingKind.AutomaticLoweringDidNotAct, 2, EpisodeChange.Opened, new FindingDetail.DidNotAct(0.44, 0.33, 0.23))));

    [Fact]
    public void No_finding_and_no_change_is_without_words_and_nothing_is_in_kilograms_or_shouted()
    {
        foreach (var kind in Enum.GetValues<FindingKind>())
            foreach (var change in Enum.GetValues<EpisodeChange>())
            {
                var key = new FindingKey(kind, new MarginKey(MarginKind.Axle, 0, 1), 0);
                var sentence = new Sentences(LimitsWithSensor).Of(new LaneOutput.Episode(new Moment(0), key, change, Level.Likely, new Moment(0), new FindingDetail.None()));
                Assert.EndsWith(".", sentence, StringComparison.Ordinal);
                Assert.DoesNotContain("!", sentence, StringComparison.Ordinal);
                Assert.DoesNotContain(" kg", sentence, StringComparison.Ordinal);
                Assert.True(char.IsUpper(sentence[0]));
            }
    }

    private static Combination LimitsWithSensor { get; } = Limits.LimitFleet.Couple(Limits.LimitFleet.Rigid("S0 D4.6 T5.95^") with
    {
        Sensors = [new PressureSensor { Key = "drive", Axles = [1], Handbook = new() { OffsetKilograms = 0, KilogramsPerKilopascal = 15, OffsetVariance = 1, GainVariance = 1, Covariance = 0, ResidualKilograms = 1, Version = "handbook" } }],
    });

    [Fact]
    public void Amounts_are_rounded_as_people_expect()
    {
        Assert.Equal("0.0 t", Amount.Tonnes(-20));
        Assert.Equal("-0.1 t", Amount.Tonnes(-60));
        Assert.Equal("0.1 t", Amount.TonnesUp(1));
        Assert.Equal("1.2 t", Amount.TonnesUp(1200.0000000001));
        Assert.Equal("at most 8.0 t", $"at most {Amount.Limit(8000)}");
    }

    [Fact]
    public void A_pressure_step_is_told_in_tonnes()
    {
        var words = new Sentences(LimitsWithSensor);
        Assert.Equal("Sensor drive stepped by 1.2 t while rolling, without a lift: that cannot be load. Look at the sensor, the circuit and the lift switch.",
            words.Of(Said.Episode(FindingKind.PressureStep, 0, EpisodeChange.Opened, new FindingDetail.Measured(-1210, "kg"))));
    }

    [Fact]
    public void A_lift_switch_that_lies_is_told_with_what_its_bellows_hold()
    {
        Assert.Equal("Axle 3 (tag) is said to be raised, but its bellows hold pressure (328 kPa) and feel the road: it counts as down. Look at the lift switch.",
            Rigid.Of(Said.Episode(FindingKind.LiftDisputed, 2, EpisodeChange.Opened, new FindingDetail.Measured(328.4, "kPa"))));
        Assert.Equal("Ended: the switch of axle 3 (tag) and its bellows go together again.",
            Rigid.Of(Said.Episode(FindingKind.LiftDisputed, 2, EpisodeChange.Closed, new FindingDetail.None())));
    }

    [Fact]
    public void A_drift_is_told_in_tonnes_and_a_silence_with_what_it_leaves_unknown()
    {
        var words = new Sentences(LimitsWithSensor);
        Assert.Equal("Sensor drive has drifted by 0.3 t from the load while rolling: that cannot be load. Look at the sensor and the circuit; its readings are not used meanwhile.",
            words.Of(Said.Episode(FindingKind.SensorDrifts, 0, EpisodeChange.Opened, new FindingDetail.Measured(310, "kg"))));
        Assert.Equal("Sensor drive says nothing while the vehicle is heard and rolls. Look at the sensor and its wiring. Its axles are known only from what else is measured.",
            words.Of(Said.Episode(FindingKind.SensorSilent, 0, EpisodeChange.Opened, new FindingDetail.None())));
        Assert.Equal("Ended: sensor drive reports again.", words.Of(Said.Episode(FindingKind.SensorSilent, 0, EpisodeChange.Closed, new FindingDetail.None())));
    }

    [Fact]
    public void What_ends_because_the_load_may_be_another_does_not_claim_to_be_solved() =>
        Assert.Equal("Ended: the load or the lifts may be others now, so whether axle 1 (steer) is within its limit is looked at anew.",
            Rigid.Of(new LaneOutput.Episode(new Moment(0), new FindingKey(FindingKind.CannotTell, new MarginKey(MarginKind.Axle, 0, 0), -1),
                EpisodeChange.Closed, Level.Clear, new Moment(0), new FindingDetail.None())));
}

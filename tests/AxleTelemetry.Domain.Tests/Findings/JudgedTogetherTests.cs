using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Findings;

/// <summary>What is shared among limits changes no bit of what is said of each, and is shared.</summary>
public sealed class JudgedTogetherTests
{
    // Both circuits of the rear are its own axle's: the split is measured, and its errors act through the sensors.
    private const string Journey = """
        vehicle rigid-6x2-tag
        calibration tickets
        trip national
        seed 5

        journey
        load 14 t at 4.4 m in 10 min
        stop 5 min
        drive 20 km at 70 km/h
        stop 2 min

        findings
        """;

    private static readonly Lane Driven = Drive();

    [Fact]
    public void Every_limit_together_is_the_same_bits_as_one_by_one()
    {
        var (setup, state) = (Driven.Setup, Driven.State);
        Assert.True(state.Known.SensorOf(1) >= 0, "the split was measured");
        foreach (var judged in Everywhere())
        {
            var excesses = new Estimated[judged.Margins.Length];
            judged.JudgeAll(setup.Estimator, state.Payload, state.Known, excesses);
            for (var i = 0; i < excesses.Length; i++)
            {
                var alone = judged.Judge(i, setup.Estimator, state.Payload, state.Known);
                Assert.Equal(alone, judged.VerdictOf(i, excesses[i], state.Payload));
                Assert.Equal(alone.Excess.Mean > 0, judged.IsPassed(i, state.Payload, state.Known));
                Assert.Equal(alone.Excess.Mean <= -0.03 * alone.Scale, judged.Leaves(0.03, i, state.Payload, state.Known));
            }
        }
    }

    [Fact]
    public void A_limit_is_the_sum_that_it_weighs_less_its_constant()
    {
        var (setup, state) = (Driven.Setup, Driven.State);
        foreach (var judged in Everywhere())
            for (var i = 0; i < judged.Margins.Length; i++)
            {
                var margin = judged.Margins[i];
                var load = margin.Weights.Select((w, row) => w == 0 ? 0 : w * judged.Map.Load(row, state.Payload.State, state.Known)).Sum();
                Assert.Equal(load - margin.Constant, judged.Judge(i, setup.Estimator, state.Payload, state.Known).Excess.Mean, 6);
            }
    }

    [Fact]
    public void What_two_countries_weigh_and_what_papers_say_is_there_once()
    {
        var (here, there) = (Driven.Setup.TableAt(1).Prepared(default)!, Driven.Setup.TableAt(2).Prepared(default)!);
        var drive = here.Margins.Select(m => m.Key).ToList().IndexOf(new MarginKey(MarginKind.Axle, 0, 1));
        Assert.NotEqual(here.Margins[drive].Limit, there.Margins[drive].Limit);
        Assert.Same(here.Form(drive), there.Form(drive));
        var rating = here.Margins.Select(m => m.Key).ToList().IndexOf(new MarginKey(MarginKind.AxleRating, 0, 1));
        Assert.Same(here.Form(drive), here.Form(rating));
        Assert.Same(here.Margins[rating], there.Margins[rating]);
        Assert.Same(here.Gross, there.Gross);
    }

    [Fact]
    public void Vehicles_of_one_shape_share_the_list_of_what_can_be_found()
    {
        var catalogs = new FindingCatalogs();
        Assert.Same(Setup(Script(), catalogs).Catalog, Setup(Script(), catalogs).Catalog);
        var other = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.6"));
        Assert.NotSame(Setup(Script(), catalogs).Catalog, new LaneSetup(other, [], LaneLaw.Everywhere(c => LimitFleet.Margins(other, c)), catalogs).Catalog);
    }

    private static IEnumerable<JudgedConfiguration> Everywhere() => Enumerable.Range(0, Driven.Setup.Law.Stacks)
        .SelectMany(stack => Driven.Setup.Table.Lifts.Select(lifts => Driven.Setup.TableAt(stack).Prepared(lifts)!));

    private static Lane Drive()
    {
        var script = Script();
        var lane = new Lane(Setup(script));
        var outputs = new List<LaneOutput>();
        foreach (var (body, reading) in JourneyReadings.Of(script, JourneyPlayer.Play(script))) lane.Step(body, reading, outputs);
        return lane;
    }

    private static LaneSetup Setup(JourneyScript script, FindingCatalogs? catalogs = null)
    {
        var book = Assert.IsType<LimitBookResult.Made>(LimitBook.Of([LimitFleet.Directive, Set("at"), Set("md")])).Book;
        return new LaneSetup(script.Combination, script.Fits, LaneLaw.ByPlace(script.Combination, book, LimitFleet.National, NoCountries.Known), catalogs);
    }

    private static JourneyScript Script() => Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(Journey, Repository.Vehicle)).Script;

    private static LimitSet Set(string country) => ((LimitSetResult.Parsed)LimitSetFile.Shipped($"{country}-national")).Set;
}

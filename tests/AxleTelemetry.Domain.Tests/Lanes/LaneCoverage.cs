using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>
/// What is stated at the end of a leg covers the truth in 92 to 98 % of legs, through the whole lane: road noise, settled
/// gate, loading stops, learned noise and split; and hardly an overload is told as sure that is none.
/// </summary>
public sealed class LaneCoverage
{
    private const ulong Seed = 20_260_715;
    private const int Vehicles = 300;
    private const double Least = 0.92, Most = 0.98;

    // Sure is told at 0.975 of loads that lie anywhere; near the limit it is wrong more often.
    private const double FalselySure = 0.05;

    [Theory]
    [InlineData("rigid, rear axles sensed each", 1)]
    [InlineData("rigid, one rear circuit", 1)]
    [InlineData("tractor and semi-trailer", 1)]
    [InlineData("tractor and semi-trailer", 30)]
    [InlineData("tractor and semi-trailer", 60)]
    public void Intervals_cover_at_the_end_of_legs(string kind, int every)
    {
        var tally = Ride(kind, true, every);
        TestContext.Current.TestOutputHelper?.WriteLine(tally.Report);
        Assert.True(tally.Legs - tally.Unsettled > 0.99 * tally.Legs, tally.Report);
        Assert.True(tally.Surely > 100 && tally.Falsely <= FalselySure * tally.Surely, tally.Report);
        // Three standard errors of counting vehicles, since the legs of one vehicle share its errors.
        var slack = Math.Max(0, 3 * Math.Sqrt(0.95 * 0.05 / Vehicles) - 0.03);
        Assert.All(tally.Coverage, c => Assert.True(c.Value >= Least - slack && c.Value <= Most + slack, $"{c.Key}\n{tally.Report}"));
    }

    [Theory]
    [InlineData("rigid, rear axles sensed each")]
    [InlineData("tractor and semi-trailer")]
    public void Without_tickets_intervals_cover_at_least(string kind)
    {
        // The handbook allows for more than is drawn here (an offset of 150 kg): wider than needed is no fault.
        var tally = Ride(kind, false, 1);
        TestContext.Current.TestOutputHelper?.WriteLine(tally.Report);
        Assert.All(tally.Coverage, c => Assert.True(c.Value >= Least - 0.01, $"{c.Key}\n{tally.Report}"));
    }

    private static LegTally Ride(string kind, bool ticketed, int every)
    {
        var combination = Fleet.Estimator(kind, ticketed).Model.Combination;
        var tally = new LegTally($"{kind}, {(ticketed ? "tickets" : "handbook")}, every {every} s, {Vehicles} vehicles, seed {Seed}");
        for (var v = 0; v < Vehicles; v++)
        {
            var journey = new DrawnJourney(combination, ticketed, Seed + (ulong)v);
            journey.Play(every, truth => tally.Compare(journey.Lane, truth), tally.Hear);
        }

        return tally;
    }
}

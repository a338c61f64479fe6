using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Tests.Limits;

namespace AxleTelemetry.Domain.Tests.FittedTyres;

public sealed class TyreLedgerTests
{
    private static readonly TyrePlace DriveLeft = new("RT-01", "drive", TyrePosition.LeftOuter);
    private static readonly TyrePlace DriveRight = new("RT-01", "drive", TyrePosition.RightOuter);
    private static readonly TyrePlace TagLeft = new("RT-01", "tag", TyrePosition.Left);

    /// <summary>A tyre is fitted to the drive axle, moves to the tag axle, is taken off, retreaded and fitted to another truck.</summary>
    private static readonly TyreEvent[] Life =
    [
        new TyreEvent.Fitted(Day(1), "T1", DriveLeft), new TyreEvent.Fitted(Day(1), "T2", DriveRight),
        new TyreEvent.Rotated(Day(10), "T1", TagLeft),
        new TyreEvent.Removed(Day(20), "T1"), new TyreEvent.Retreaded(Day(22), "T1"),
        new TyreEvent.Fitted(Day(25), "T1", DriveLeft with { Vehicle = "RT-02" }),
    ];

    [Theory]
    [InlineData(1, "drive")]
    [InlineData(9, "drive")]
    [InlineData(10, "tag")]
    [InlineData(19, "tag")]
    public void A_tyre_is_where_it_was_last_put(int day, string axle) => Assert.Equal(axle, Kept(Life).WhereWas("T1", Day(day))?.Axle);

    [Theory]
    [InlineData(20)]
    [InlineData(24)]
    public void Off_the_vehicle_it_is_nowhere(int day) => Assert.Null(Kept(Life).WhereWas("T1", Day(day)));

    [Fact]
    public void A_place_tells_its_tyre_on_a_day()
    {
        var ledger = Kept(Life);
        Assert.Equal("T1", ledger.On(DriveLeft, Day(9)));
        Assert.Null(ledger.On(DriveLeft, Day(10)));
        Assert.Equal("T1", ledger.On(TagLeft, Day(10)));
        Assert.Equal("T2", ledger.On(DriveRight, Day(300)));
    }

    /// <summary>By hand: 9 days at 1/4 of the drive axle, 10 at 1/2 of the tag axle, and 3 on the other truck since the retread.</summary>
    [Fact]
    public void Exposure_belongs_to_the_tyre_wherever_it_was()
    {
        var days = Enumerable.Range(1, 27).SelectMany(d => new[]
        {
            new AxleDay("RT-01", "drive", Day(d), 4, new(1_000, 8_000, 4, 40)),
            new AxleDay("RT-01", "tag", Day(d), 2, new(500, 3_000, 2, 20)),
            new AxleDay("RT-02", "drive", Day(d), 4, new(2_000, 20_000, 8, 80)),
        });
        var account = Kept(Life).Account(days);
        var life = Assert.Single(account.Tyres, t => t.Tyre == "T1");
        Assert.Equal(new TyreExposure(9 * 1_000 + 10 * 500 + 3 * 2_000, 9 * 2_000 + 10 * 1_500 + 3 * 5_000, 9 + 10 + 6, 90 + 100 + 60), life.Whole);
        Assert.Equal(new TyreExposure(6_000, 15_000, 6, 60), life.SinceRetread);
        Assert.Equal((1, (DateOnly?)Day(22)), (life.Retreads, life.RetreadedOn));
        Assert.Equal(9 + 8 + 24, account.Unclaimed.Length);
    }

    [Fact]
    public void Without_a_retread_the_present_tread_is_the_whole_life()
    {
        var life = Kept(Life).Account([new AxleDay("RT-01", "drive", Day(5), 4, new(1_000, 8_000, 4, 40))]).Tyres[1];
        Assert.Equal(("T2", life.Whole, 0), (life.Tyre, life.SinceRetread, life.Retreads));
        Assert.Equal(new TyreExposure(1_000, 2_000, 1, 10), life.Whole);
    }

    [Fact]
    public void Tyres_that_change_places_pass_through_each_other()
    {
        var ledger = Kept([.. Life[..2], new TyreEvent.Rotated(Day(5), "T1", DriveRight), new TyreEvent.Rotated(Day(5), "T2", DriveLeft)]);
        Assert.Equal(("T2", "T1"), (ledger.On(DriveLeft, Day(5)), ledger.On(DriveRight, Day(5))));
    }

    [Fact]
    public void Events_may_come_in_any_order_of_days() =>
        Assert.Equal(Kept(Life).Stays, Kept([Life[5], Life[0], Life[1], Life[4], Life[3], Life[2]]).Stays);

    [Fact]
    public void Who_came_and_went_on_one_day_was_not_there() =>
        Assert.Empty(Kept([new TyreEvent.Fitted(Day(1), "T1", DriveLeft), new TyreEvent.Removed(Day(1), "T1")]).Stays);

    [Fact]
    public void Every_event_that_cannot_have_been_is_told_at_once()
    {
        var refused = Assert.IsType<TyreLedgerResult.Refused>(TyreLedger.Of(
        [
            new TyreEvent.Removed(Day(1), "T9"), new TyreEvent.Rotated(Day(1), "T8", TagLeft),
            new TyreEvent.Fitted(Day(2), "T1", DriveLeft), new TyreEvent.Fitted(Day(3), "T1", DriveRight),
            new TyreEvent.Retreaded(Day(4), "T1"), new TyreEvent.Fitted(Day(5), "T2", DriveLeft), new TyreEvent.Fitted(Day(6), "T3", TagLeft),
        ]));
        Assert.Equal([0, 1, 3, 4, 5], refused.Problems.Select(p => p.Index));
        Assert.Contains("'T1' and 'T2' are both at RT-01 drive LeftOuter", refused.Problems[^1].Reason);
    }

    [Fact]
    public void A_place_is_held_against_the_vehicle()
    {
        var truck = LimitFleet.Rigid("S0 D4.5 T5.8");
        Assert.Null(new TyrePlace(truck.Id, "a2", TyrePosition.LeftInner).WrongOn(truck));
        Assert.Null(new TyrePlace(truck.Id, "a3", TyrePosition.Right).WrongOn(truck));
        Assert.Contains("twin", new TyrePlace(truck.Id, "a2", TyrePosition.Left).WrongOn(truck));
        Assert.Contains("single", new TyrePlace(truck.Id, "a3", TyrePosition.LeftOuter).WrongOn(truck));
        Assert.Contains("a1, a2, a3", new TyrePlace(truck.Id, "a4", TyrePosition.Left).WrongOn(truck));
    }

    private static TyreLedger Kept(IReadOnlyList<TyreEvent> events) => Assert.IsType<TyreLedgerResult.Kept>(TyreLedger.Of(events)).Ledger;

    private static DateOnly Day(int number) => new DateOnly(2026, 3, 1).AddDays(number - 1);
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>Two tractors say that the same trailer hangs on them.</summary>
public sealed class TwoClaimsTests
{
    private static readonly VehicleName First = Traffic.Name("tractor-4x2"), Second = Traffic.Name("tractor-6x2-pusher"), Trailer = Traffic.Name("semi-tridem-lift-first");
    private static readonly Moment Start = new(1_772_432_045_000);

    [Fact]
    public void Both_are_told_the_last_word_counts_and_the_other_claims_no_gross()
    {
        var delivery = Claimed();
        Drive(delivery, 0, 60);
        Assert.Equal((1, 2), (Vehicles(delivery, First), Vehicles(delivery, Second)));
        Assert.Equal(2, Episodes(delivery).Count(e => e.ClosedAt is null));
        var view = delivery.History.LaneOf(First)!.View();
        Assert.Contains(Withheld.TrailerClaimedTwice, view.Withheld);
        Assert.Null(view.Gross);
        Assert.DoesNotContain(Withheld.TrailerClaimedTwice, delivery.History.LaneOf(Second)!.View().Withheld);
    }

    [Fact]
    public void It_ends_for_both_when_one_lets_go()
    {
        var delivery = Claimed();
        Drive(delivery, 0, 60);
        delivery.Take(new CouplingStatement(First, Start.Plus(70), []));
        Drive(delivery, 71, 120);
        Assert.Equal(2, Episodes(delivery).Count());
        Assert.All(Episodes(delivery), e => Assert.Equal(Start.Plus(70), e.ClosedAt));
        Assert.DoesNotContain(Withheld.TrailerClaimedTwice, delivery.History.LaneOf(First)!.View().Withheld);
    }

    [Fact]
    public void A_claim_that_comes_late_gives_the_same_rows()
    {
        var (timely, late) = (Claimed(), Delivery.Begin(Traffic.Settings));
        Drive(timely, 0, 60);
        late.Take(new CouplingStatement(First, Start.Plus(-60), [Trailer]));
        Drive(late, 0, 60);
        late.Take(new CouplingStatement(Second, Start.Plus(20), [Trailer]));
        timely.End();
        late.End();
        Assert.True(late.Corrections > 0);
        Assert.Equal(timely.Rows(), late.Rows());
    }

    private static Delivery Claimed()
    {
        var delivery = Delivery.Begin(Traffic.Settings);
        delivery.Take(new CouplingStatement(First, Start.Plus(-60), [Trailer]));
        delivery.Take(new CouplingStatement(Second, Start.Plus(20), [Trailer]));
        return delivery;
    }

    private static void Drive(Delivery delivery, int from, int to)
    {
        foreach (var unit in (VehicleName[])[First, Second])
        {
            for (var second = from; second < to; second++) delivery.Take(unit, new Reading(Start.Plus(second), ReadingKind.Position, (ushort)PositionKey.Speed, 20));
            delivery.Release(unit, Start.Plus(to - 1).UnixMilliseconds);
        }
    }

    private static int Vehicles(Delivery delivery, VehicleName unit) => delivery.History.LaneOf(unit)!.Setup.Combination.Vehicles.Length;

    private static IEnumerable<HistoryRow.Episode> Episodes(Delivery delivery) => delivery.Archive.Rows.Select(r =>
    {
        var reader = new ByteReader(r.Bytes.Span);
        return HistoryRowCodec.Read(ref reader);
    }).OfType<HistoryRow.Episode>().Where(e => e.Key.Finding.Kind == FindingKind.TrailerClaimedTwice);
}

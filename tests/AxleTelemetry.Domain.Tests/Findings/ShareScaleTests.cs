using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Limits;

namespace AxleTelemetry.Domain.Tests.Findings;

public class ShareScaleTests
{
    [Theory]
    [InlineData(MarginKind.DrivingShare, -1, 0.25)]
    [InlineData(MarginKind.SteeringShare, 0, 0.20)]
    public void The_scale_of_a_share_is_that_part_of_the_mass_and_scale_less_excess_the_load_that_counts(MarginKind kind, int body, double least)
    {
        var combination = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.6 T5.95^"));
        var setup = LaneSetup.FromHandbook(combination, c => LimitFleet.Margins(combination, c));
        var hand = LoadInHand.FromPayload(setup, default, [(Mass.FromKilograms(10_000), Length.FromMetres(4))])!;
        var judged = setup.Table.At(default, hand.Payload.State)!;
        var margin = judged.Margins.IndexOf(judged.Margins.Find(kind, body)!);
        var verdict = judged.Judge(margin, setup.Estimator, hand.Payload, hand.Known);
        double[] axles = [.. Enumerable.Range(0, 3).Select(a => judged.Map.Load(a, hand.Payload.State))];
        Assert.Equal(least * axles.Sum(), verdict.Scale, 6);
        Assert.Equal(kind == MarginKind.DrivingShare ? axles[1] : axles[0], verdict.Scale - verdict.Excess.Mean, 6);
    }
}

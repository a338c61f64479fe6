using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Domain.Tests.Wording;

/// <summary>Verdicts and findings put together by hand, to be said.</summary>
internal static class Said
{
    public static Combination Rigid { get; } = LimitFleet.Couple(LimitFleet.Rigid("S0 D4.6 T5.95^"));

    public static Combination Articulated { get; } = LimitFleet.Couple(LimitFleet.Tractor("S0 D3.7"), LimitFleet.Semi("A6.4^ A7.7 A9"));

    public static Sentences Of(Combination combination) => new(combination);

    /// <summary>A mass limit, kg, passed by so much with such a spread.</summary>
    public static Verdict Mass(MarginKind kind, int element, double limit, double excess, double sd) =>
        new(new Margin
        {
            Key = new MarginKey(kind, kind == MarginKind.CombinationGross ? -1 : 0, element),
            Weights = [],
            Constant = kind == MarginKind.CouplingLeast ? -limit : limit,
            Limit = limit,
            Source = new LimitSource("Paper", "", default, LimitStatus.VehiclePapers),
            Standing = MarginStanding.Law,
        }, new Estimated(excess, sd), limit);

    /// <summary>A share of 30 t that is short by so much.</summary>
    public static Verdict Share(MarginKind kind, double least, double excess, double sd) =>
        Mass(kind, -1, 0, excess, sd) with { Scale = least * 30_000, Margin = Mass(kind, -1, 0, 0, 0).Margin with { Limit = least, Constant = 0 } };

    public static FindingDetail.Excess Excess(Verdict verdict, params Remedy[] remedies) =>
        new(verdict, verdict.Excess with { Mean = verdict.Margin.Constant > 0 ? verdict.Excess.Mean + verdict.Margin.Constant : verdict.Scale - verdict.Excess.Mean }, [.. remedies]);

    public static LaneOutput.Episode Episode(FindingKind kind, int element, EpisodeChange change, FindingDetail detail) =>
        new(new Moment(0), new FindingKey(kind, default, element), change, Level.Likely, new Moment(0), detail);

    public static LaneOutput.Episode Overload(Verdict verdict, EpisodeChange change, Level level, params Remedy[] remedies) =>
        new(new Moment(0), new FindingKey(FindingKind.Overload, verdict.Margin.Key, -1), change, level, new Moment(0), Excess(verdict, remedies));

    public static ImmutableArray<int> Axles(params int[] axles) => [.. axles];
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>From one judged configuration to rows: limits on the same load stand together, under the thing that carries it.</summary>
internal sealed class RowBuilder(LaneSetup setup, LoadInHand hand, Reach reach)
{
    private readonly Names _names = new(setup.Combination);

    /// <summary>Axles first, then groups, gross and shares, then couplings.</summary>
    public ImmutableArray<LoadRow> Rows(JudgedConfiguration judged)
    {
        var combination = setup.Combination;
        var limits = judged.Margins.Select((margin, index) => (Margin: margin, Index: index)).ToLookup(m => Carrier(m.Margin));
        var axles = combination.Axles.Select(a => Row(judged, _names.Axle(a.Index), Single(a.Index), a.Index, [.. limits[Key(Single(a.Index))].Select(m => m.Index)]));
        var couplings = Enumerable.Range(1, combination.Couplings).Where(b => combination.Vehicles[b].Kind.RestsOnCoupling()).Select(b =>
            Row(judged, _names.Coupling(b), Single(combination.CouplingRow(b)), -1, [.. limits[Key(Single(combination.CouplingRow(b)))].Select(m => m.Index)]));
        var others = limits.Where(g => g.First().Margin.Weights.Count(w => w != 0) > 1).Select(g =>
            Row(judged, _names.Limited(g.First().Margin), Weights(g.First().Margin), -1, [.. g.Select(m => m.Index)]));
        return [.. axles, .. others, .. couplings];
    }

    private LoadRow Row(JudgedConfiguration judged, string name, ImmutableArray<double> weights, int axle, ImmutableArray<int> limits)
    {
        var form = new LinearForm(judged.Map, weights);
        var state = axle < 0 ? AxleState.Loaded : judged.Map.Configuration[axle];
        return new LoadRow
        {
            Name = name,
            Axle = axle,
            MayPull = weights.Skip(setup.Combination.Axles.Length).Any(w => w != 0) && weights.Count(w => w != 0) == 1,
            State = state,
            Load = setup.Estimator.Evaluate(hand.Payload, hand.Known, form),
            Known = axle >= 0 && state == AxleState.Loaded ? OfAxle(judged, axle, form) : OfSum(judged, weights, form),
            Judged = [.. limits.Select(i => Judge(judged, i)).OrderByDescending(j => j.Verdict.Deviations).ThenBy(j => j.Verdict.Margin.Limit)],
        };
    }

    /// <summary>A circuit measures an axle as it stands; as it would stand otherwise, the axle is inferred.</summary>
    private Knowledge OfAxle(JudgedConfiguration judged, int axle, LinearForm form) =>
        judged.Map.Configuration == hand.Present ? reach.OfAxle(axle) : reach.Of(form.Level);

    /// <summary>A sum is measured where each of its axles is: nothing else adds to it.</summary>
    private Knowledge OfSum(JudgedConfiguration judged, ImmutableArray<double> weights, LinearForm form)
    {
        var rows = Enumerable.Range(0, weights.Length).Where(i => weights[i] != 0).ToArray();
        var axles = rows.Where(i => i < setup.Combination.Axles.Length && judged.Map.Configuration[i] == AxleState.Loaded).ToArray();
        return judged.Map.Configuration == hand.Present && rows.Length > 1 && axles.Length == rows.Length
            && axles.All(a => reach.OfAxle(a) is Knowledge.Sensed or Knowledge.SharedCircuit)
            ? Knowledge.Sensed : reach.Of(form.Level);
    }

    private JudgedLimit Judge(JudgedConfiguration judged, int margin)
    {
        var verdict = judged.Judge(margin, setup.Estimator, hand.Payload, hand.Known);
        var most = setup.MostSure(verdict.Margin.Key.Body);
        return new JudgedLimit(verdict, verdict.Level > most ? most : verdict.Level);
    }

    private ImmutableArray<double> Single(int row) => [.. Enumerable.Range(0, setup.Combination.Rows).Select(i => i == row ? 1.0 : 0.0)];

    /// <summary>Which rows a limit weighs: a least load and a most load on one coupling are limits on the same thing, a share is one of its own.</summary>
    private static string Carrier(Margin margin) =>
        margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare ? margin.Key.Kind.ToString() : Key(Weights(margin));

    /// <summary>The load that a limit looks at: of a share, what is on the axles that must carry it.</summary>
    private static ImmutableArray<double> Weights(Margin margin) => margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare
        ? [.. margin.Weights.Select(w => w < 0 ? 1.0 : 0.0)]
        : [.. margin.Weights.Select(Math.Abs)];

    private static string Key(ImmutableArray<double> weights) => string.Concat(weights.Select(w => w != 0 ? '1' : '0'));
}

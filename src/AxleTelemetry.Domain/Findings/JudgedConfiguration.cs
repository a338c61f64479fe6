using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>A configuration with its limits, ready to be judged without allocating.</summary>
public sealed class JudgedConfiguration
{
    private readonly FormSet _forms;

    /// <summary>Prepares a configuration.</summary>
    internal JudgedConfiguration(LoadMap map, ImmutableArray<Margin> margins, Combination combination)
    {
        Map = map;
        Margins = margins;
        // A share is compared with that part of all the mass it counts: 25 % of the gross, not of what the others carry.
        _forms = map.Forms([.. margins.Select(m => new FormWanted(m.Weights, IsShare(m) ? m.Limit : 0)), new FormWanted(LinearForm.AllAxles(combination), 0)]);
    }

    /// <summary>The statics.</summary>
    public LoadMap Map { get; }

    /// <summary>The limits, in the order of their keys.</summary>
    public ImmutableArray<Margin> Margins { get; }

    /// <summary>All that stands on the road.</summary>
    public LinearForm Gross => _forms[Margins.Length];

    /// <summary>Judges one limit.</summary>
    public Verdict Judge(int margin, Estimator estimator, PayloadEstimate estimate, KnownErrors known) =>
        Judge(margin, estimator, estimate, known, estimate.State);

    /// <summary>Judges one limit at a payload state reached by a known change.</summary>
    public Verdict Judge(int margin, Estimator estimator, PayloadEstimate estimate, KnownErrors known, ReadOnlySpan<double> state) =>
        Judge(margin, estimator.Weigh(estimate, known, _forms[margin], state), state);

    /// <summary>Judges every limit; what several limits weigh is worked out once.</summary>
    /// <param name="estimator">The inference.</param>
    /// <param name="estimate">What is believed of the payload.</param>
    /// <param name="known">What has become known of considered errors.</param>
    /// <param name="excesses">Receives by how much each limit is passed, for <see cref="VerdictOf"/>.</param>
    public void JudgeAll(Estimator estimator, PayloadEstimate estimate, KnownErrors known, Span<Estimated> excesses)
    {
        Span<FormWeight> weights = stackalloc FormWeight[_forms.Different];
        estimator.Weigh(estimate, known, _forms, weights);
        ReadOnlySpan<double> state = estimate.State;
        for (var margin = 0; margin < excesses.Length; margin++)
            excesses[margin] = weights[_forms.Of(margin)].Less(_forms[margin], state, Margins[margin].Constant);
    }

    /// <summary>The verdict on one limit from what <see cref="JudgeAll"/> found of it.</summary>
    public Verdict VerdictOf(int margin, Estimated excess, PayloadEstimate estimate) => new(Margins[margin], excess, Scale(margin, estimate.State));

    /// <summary>True where a limit is passed as far as is known, however sure that is.</summary>
    public bool IsPassed(int margin, PayloadEstimate estimate, KnownErrors known) => Mean(margin, estimate, known) > 0;

    /// <summary>True where a limit leaves a part of itself as room, as far as is known, however sure that is.</summary>
    public bool Leaves(double part, int margin, PayloadEstimate estimate, KnownErrors known) => Mean(margin, estimate, known) <= -part * Scale(margin, estimate.State);

    /// <summary>Change of a margin per kilogram of payload added at a place of a body.</summary>
    public double PerKilogram(int margin, BodyPart body, double metres)
    {
        var level = _forms[margin].Level;
        return level[body.StateIndex] + level[body.StateIndex + 1] * metres;
    }

    /// <summary>Change of a margin per kg m of payload moment shifted rearward.</summary>
    public double PerMoment(int margin, BodyPart body) => _forms[margin].Level[body.StateIndex + 1];

    /// <summary>What a limit weighs; its constant is not taken off.</summary>
    public LinearForm Form(int margin) => _forms[margin];

    private Verdict Judge(int margin, in FormWeight weight, ReadOnlySpan<double> state) =>
        new(Margins[margin], weight.Less(_forms[margin], state, Margins[margin].Constant), Scale(margin, state));

    private double Mean(int margin, PayloadEstimate estimate, KnownErrors known) => Estimator.Mean(known, _forms[margin], estimate.State, Margins[margin].Constant);

    private double Scale(int margin, ReadOnlySpan<double> state)
    {
        var share = _forms.Scale(margin);
        return Math.Abs(share.IsEmpty ? Margins[margin].Limit : LoadMap.Value(share, state));
    }

    private static bool IsShare(Margin margin) => margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare;
}

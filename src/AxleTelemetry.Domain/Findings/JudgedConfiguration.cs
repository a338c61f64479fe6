using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>A configuration with its limits, ready to be judged without allocating.</summary>
public sealed class JudgedConfiguration
{
    private readonly ImmutableArray<LinearForm> _forms;
    private readonly ImmutableArray<LinearForm?> _scales;

    /// <summary>Prepares a configuration.</summary>
    public JudgedConfiguration(LoadMap map, ImmutableArray<Margin> margins)
    {
        Map = map;
        Margins = margins;
        _forms = [.. margins.Select(m => new LinearForm(map, m.Weights, m.Constant))];
        // A share is compared with that part of all the mass it counts: 25 % of the gross, not of what the others carry.
        _scales = [.. margins.Select(m => IsShare(m) ? new LinearForm(map, [.. m.Weights.Select(w => w == 0 ? 0 : m.Limit)], 0) : null)];
    }

    /// <summary>The statics.</summary>
    public LoadMap Map { get; }

    /// <summary>The limits, in the order of their keys.</summary>
    public ImmutableArray<Margin> Margins { get; }

    /// <summary>All that stands on the road.</summary>
    public required LinearForm Gross { get; init; }

    /// <summary>Judges one limit.</summary>
    public Verdict Judge(int margin, Estimator estimator, PayloadEstimate estimate, KnownErrors known) =>
        Judge(margin, estimator, estimate, known, estimate.State);

    /// <summary>Judges one limit at a payload state reached by a known change.</summary>
    public Verdict Judge(int margin, Estimator estimator, PayloadEstimate estimate, KnownErrors known, ReadOnlySpan<double> state)
    {
        var excess = estimator.Evaluate(estimate, known, _forms[margin], state);
        var scale = _scales[margin] is { } share ? Math.Abs(LoadMap.Value(share.Level, state)) : Math.Abs(Margins[margin].Limit);
        return new Verdict(Margins[margin], excess, scale);
    }

    /// <summary>Change of a margin per kilogram of payload added at a place of a body.</summary>
    public double PerKilogram(int margin, BodyPart body, double metres)
    {
        var level = _forms[margin].Level;
        return level[body.StateIndex] + level[body.StateIndex + 1] * metres;
    }

    /// <summary>Change of a margin per kg m of payload moment shifted rearward.</summary>
    public double PerMoment(int margin, BodyPart body) => _forms[margin].Level[body.StateIndex + 1];

    /// <summary>The form of a margin.</summary>
    public LinearForm Form(int margin) => _forms[margin];

    private static bool IsShare(Margin margin) => margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare;
}

using System.Collections.Concurrent;
using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>The limits of a combination in each of its configurations, prepared when first needed and kept.</summary>
public sealed class JudgeTable
{
    private readonly ConcurrentDictionary<Configuration, JudgedConfiguration?> _prepared = new();
    private readonly Func<Configuration, JudgedConfiguration?> _prepare;
    private readonly Func<Configuration, ImmutableArray<Margin>> _margins;

    /// <summary>Prepares judging under given limits.</summary>
    /// <param name="model">Statics of the combination.</param>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    /// <param name="keys">The limits that may arise, where they are known already.</param>
    public JudgeTable(LoadModel model, Func<Configuration, ImmutableArray<Margin>> margins, ImmutableArray<MarginKey> keys = default)
    {
        Model = model;
        _margins = margins;
        _prepare = configuration => Model.Map(configuration) is { } map ? new JudgedConfiguration(map, margins(configuration)) { Gross = LinearForm.OfGross(map, model.Combination) } : null;
        Lifts = [.. model.LiftConfigurations().Select(map => map.Configuration)];
        Keys = !keys.IsDefault ? keys : [.. Lifts.SelectMany(c => margins(c)).Select(m => m.Key).Distinct().Order()];
    }

    /// <summary>The statics.</summary>
    public LoadModel Model { get; }

    /// <summary>Every way the lifts can stand in the normal suspension mode.</summary>
    public ImmutableArray<Configuration> Lifts { get; }

    /// <summary>Every limit that exists in any of them.</summary>
    public ImmutableArray<MarginKey> Keys { get; }

    /// <summary>A configuration at a payload state, ready for judging; <c>null</c> where it is not possible.</summary>
    public JudgedConfiguration? At(in Configuration configuration, ReadOnlySpan<double> state) =>
        Model.MapAt(configuration, state) is { } map ? _prepared.GetOrAdd(map.Configuration, _prepare) : null;

    /// <summary>A configuration exactly as stated, valves included, whether or not a payload puts them there; <c>null</c> where a support has no loaded axle.</summary>
    public JudgedConfiguration? Prepared(in Configuration configuration) => _prepared.GetOrAdd(configuration, _prepare);

    /// <summary>True where both hold the same limits, whichever lifts are raised.</summary>
    internal bool HasLimitsOf(JudgeTable other) =>
        Lifts.AsSpan().SequenceEqual(other.Lifts.AsSpan()) && Lifts.All(lifts => _margins(lifts).SequenceEqual(other._margins(lifts), SameMargin.Instance));

    private sealed class SameMargin : IEqualityComparer<Margin>
    {
        public static SameMargin Instance { get; } = new();

        public bool Equals(Margin? a, Margin? b) => a is not null && b is not null && a.Weights.AsSpan().SequenceEqual(b.Weights.AsSpan()) && a == b with { Weights = a.Weights };

        public int GetHashCode(Margin margin) => margin.Key.GetHashCode();
    }
}

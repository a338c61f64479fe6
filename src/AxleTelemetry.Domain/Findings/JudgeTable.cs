using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>The limits of a combination in each of its configurations, prepared when first needed and kept.</summary>
public sealed class JudgeTable
{
    private const int MostKept = 4096;

    private readonly KeptRow<JudgedConfiguration> _prepared = new(MostKept);
    private readonly Func<Configuration, ImmutableArray<Margin>> _margins;

    /// <summary>Prepares judging under given limits.</summary>
    /// <param name="model">Statics of the combination.</param>
    /// <param name="margins">The limits that hold in a configuration, in the order of their keys.</param>
    /// <param name="keys">The limits that may arise, where they are known already.</param>
    public JudgeTable(LoadModel model, Func<Configuration, ImmutableArray<Margin>> margins, ImmutableArray<MarginKey> keys = default)
    {
        Model = model;
        _margins = margins;
        Keys = !keys.IsDefault ? keys : [.. Lifts.SelectMany(c => margins(c)).Select(m => m.Key).Distinct().Order()];
    }

    /// <summary>The statics.</summary>
    public LoadModel Model { get; }

    /// <summary>Every way the lifts can stand in the normal suspension mode.</summary>
    public ImmutableArray<Configuration> Lifts => Model.Lifts;

    /// <summary>Every limit that exists in any of them.</summary>
    public ImmutableArray<MarginKey> Keys { get; }

    /// <summary>A configuration at a payload state, ready for judging; <c>null</c> where it is not possible.</summary>
    public JudgedConfiguration? At(in Configuration configuration, ReadOnlySpan<double> state) =>
        Model.MapAt(configuration, state) is { } map ? Prepared(map) : null;

    /// <summary>A configuration exactly as stated, valves included, whether or not a payload puts them there; <c>null</c> where a support has no loaded axle.</summary>
    public JudgedConfiguration? Prepared(in Configuration configuration) => Model.Map(configuration) is { } map ? Prepared(map) : null;

    /// <summary>True where both hold the same limits, whichever lifts are raised.</summary>
    internal bool HasLimitsOf(JudgeTable other) =>
        Lifts.AsSpan().SequenceEqual(other.Lifts.AsSpan()) && Lifts.All(lifts => AreSame(_margins(lifts), other._margins(lifts)));

    private static bool AreSame(ImmutableArray<Margin> a, ImmutableArray<Margin> b) => a.Length == b.Length && a.Zip(b).All(m => m.First.IsSame(m.Second));

    private JudgedConfiguration Prepared(LoadMap map)
    {
        foreach (var prepared in _prepared.All)
            if (ReferenceEquals(prepared.Map, map))
                return prepared;
        return _prepared.Keep(new JudgedConfiguration(map, _margins(map.Configuration), Model.Combination), static (a, b) => ReferenceEquals(a.Map, b.Map));
    }
}

using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Limits;

/// <summary>
/// The tables that hold in one country, uppermost first. A table answers for the subjects it has a fitting row for: one axle driven or not, a group, a
/// vehicle, a combination, the driving share; for the others the next one is asked. The last is the fall-back, which belongs to no country.
/// </summary>
public sealed class LimitStack
{
    private readonly ImmutableArray<LimitSet> _national;
    private readonly ImmutableArray<LimitSet> _international;

    /// <summary>Puts tables one over another.</summary>
    /// <param name="national">For trips within the country.</param>
    /// <param name="international">For trips over a border.</param>
    public LimitStack(ImmutableArray<LimitSet> national, ImmutableArray<LimitSet> international) => (_national, _international) = (national, international);

    /// <summary>One table for every trip.</summary>
    public static LimitStack Of(LimitSet set) => new([set], [set]);

    /// <summary>True where one table alone answers, whatever the trip.</summary>
    public bool IsSingle => _national.Length == 1 && _international.Length == 1 && ReferenceEquals(_national[0], _international[0]);

    /// <summary>The tables of a trip of a known kind.</summary>
    public ImmutableArray<LimitSet> Layers(TripKind trip) => trip switch
    {
        TripKind.National => _national,
        TripKind.International => _international,
        _ => throw new ArgumentOutOfRangeException(nameof(trip), trip, "Only for a trip of a known kind."),
    };

    /// <summary>The lowest table, for naming.</summary>
    public LimitSet Base => _international[^1];

    /// <summary>The uppermost table of a trip; for one that is not declared the national one, where there is one.</summary>
    public LimitSet Top(TripKind trip) => (trip == TripKind.International ? _international : _national)[0];

    /// <summary>True where both can only differ in masses and sources, never in which limits there are.</summary>
    public bool HasKeysOf(LimitStack other) => Shape(_national).SequenceEqual(Shape(other._national)) && Shape(_international).SequenceEqual(Shape(other._international));

    /// <summary>True where both hold the same tables.</summary>
    internal bool Holds(LimitStack other) => Same(_national, other._national) && Same(_international, other._international);

    private static bool Same(ImmutableArray<LimitSet> a, ImmutableArray<LimitSet> b) => a.AsSpan().SequenceEqual(b.AsSpan());

    private static IEnumerable<LimitRule> Shape(ImmutableArray<LimitSet> sets) => sets.SelectMany(s => s.Rules).Select(r => r switch
    {
        MassRule { Effect: RuleEffect.Permit } mass => mass with { Effect = new RuleEffect.Permit(default), Clause = "", Note = "", Status = null },
        _ => r with { Clause = "", Note = "", Status = null },
    });
}

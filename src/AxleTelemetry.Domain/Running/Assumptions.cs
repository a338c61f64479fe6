using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Running;

/// <summary>What running cost is reckoned with, every value with spread, source and status. Immutable.</summary>
public sealed record Assumptions
{
    private readonly ImmutableArray<Assumed> _values;

    private Assumptions(string currency, ImmutableArray<Assumed> values) => (Currency, _values) = (currency, values);

    /// <summary>Code of ISO 4217 in which all money is.</summary>
    public string Currency { get; }

    /// <summary>One of them.</summary>
    public Assumed this[Assumption assumption] => _values[(int)assumption];

    /// <summary>Everything at once.</summary>
    /// <exception cref="ArgumentException">One is missing or cannot be.</exception>
    public static Assumptions From(string currency, IReadOnlyDictionary<Assumption, Assumed> values) =>
        new(Code(currency), [.. AssumptionTerm.All.Select(t => Checked(t, values.GetValueOrDefault(t.Assumption)))]);

    /// <summary>With one of them changed.</summary>
    /// <exception cref="ArgumentException">It cannot be.</exception>
    public Assumptions With(Assumption assumption, Assumed assumed) =>
        new(Currency, _values.SetItem((int)assumption, Checked(AssumptionTerm.Of(assumption), assumed)));

    /// <summary>With the owner's own number.</summary>
    public Assumptions With(Assumption assumption, double value, double sd) =>
        With(assumption, new Assumed(value, sd, AssumptionTerm.Of(assumption).Unit, "owner", AssumedStatus.Owners));

    /// <summary>In another currency. The prices stay as numbers: they are the owner's to set.</summary>
    public Assumptions In(string currency) => new(Code(currency), _values);

    /// <summary>With hubs and brakes that drag nothing: what is left is the least that lifting saves.</summary>
    public Assumptions WithoutHubs => With(Assumption.HubDrag, this[Assumption.HubDrag] with { Value = 0, Sd = 0 });

    /// <summary>What work is reckoned by.</summary>
    public RunningRules Rules => new()
    {
        Beta = this[Assumption.Beta].Value,
        ReferenceFraction = this[Assumption.ReferenceFraction].Value,
        HubDragNewtons = this[Assumption.HubDrag].Value,
        SlipStiffnessPerKilogram = this[Assumption.SlipStiffness].Value,
        AirAreaSquareMetres = this[Assumption.AirArea].Value,
        RoadSpeed = this[Assumption.RoadSpeed].Value / 3.6,
        SelfSteeringLocksAbove = this[Assumption.SelfSteeringLock].Value / 3.6,
    };

    /// <summary>Equal where every value is.</summary>
    public bool Equals(Assumptions? other) => other is not null && Currency == other.Currency && _values.SequenceEqual(other._values);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Currency, _values[(int)Assumption.FuelPrice], _values[(int)Assumption.TyrePrice]);

    /// <summary>The bare values, in the order of <see cref="Assumption"/>.</summary>
    internal void Values(Span<double> to)
    {
        for (var i = 0; i < _values.Length; i++) to[i] = _values[i].Value;
    }

    private static string Code(string currency) => currency is { Length: 3 } && currency.All(char.IsAsciiLetterUpper)
        ? currency
        : throw new ArgumentException($"'{currency}' is no code of ISO 4217.", nameof(currency));

    private static Assumed Checked(AssumptionTerm term, Assumed? assumed)
    {
        if (assumed is null) throw new ArgumentException($"'{term.Key}' is missing.", nameof(assumed));
        return term.Wrong(assumed.Value, assumed.Sd) is { } right
            ? throw new ArgumentException($"'{term.Key}' has to be {right}.", nameof(assumed))
            : assumed;
    }
}

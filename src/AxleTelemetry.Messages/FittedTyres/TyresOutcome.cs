using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.FittedTyres;

/// <summary>What came of a file of tyre events, never half of it.</summary>
public abstract record TyresOutcome
{
    private TyresOutcome() { }

    /// <summary>Every row is an event, and they fit together.</summary>
    public sealed record Read(TyreLedger Ledger) : TyresOutcome;

    /// <summary>At least one thing is wrong; all are listed at once.</summary>
    public sealed record Refused(ImmutableArray<TyreRowProblem> Problems) : TyresOutcome;
}

/// <summary>One thing wrong in a file of tyre events.</summary>
/// <param name="Line">Line of the file, the header is 1.</param>
/// <param name="Field">Column name, or <c>file</c>, <c>header</c> or <c>row</c>.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Right">What would be right.</param>
public sealed record TyreRowProblem(int Line, string Field, string Value, string Right)
{
    /// <summary>What stands there, cut and made printable.</summary>
    public string Value { get; } = Excerpt.Of(Value);

    /// <summary>A sentence for a person.</summary>
    public override string ToString() => Value.Length == 0
        ? string.Create(CultureInfo.InvariantCulture, $"Line {Line}, {Field}: {Right}")
        : string.Create(CultureInfo.InvariantCulture, $"Line {Line}, {Field}: '{Value}' is not right. {Right}");
}

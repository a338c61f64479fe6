using System.Collections.Immutable;

namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>What came of events.</summary>
public abstract record TyreLedgerResult
{
    private TyreLedgerResult() { }

    /// <summary>They fit together.</summary>
    public sealed record Kept(TyreLedger Ledger) : TyreLedgerResult;

    /// <summary>They do not, and every reason why, in the order of the events.</summary>
    public sealed record Refused(ImmutableArray<TyreProblem> Problems) : TyreLedgerResult;
}

/// <summary>An event that cannot have been.</summary>
/// <param name="Index">Which of those given.</param>
/// <param name="Reason">Why, for people.</param>
public sealed record TyreProblem(int Index, string Reason);

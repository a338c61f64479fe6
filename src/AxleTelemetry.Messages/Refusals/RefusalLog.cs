using System.Collections.Immutable;

namespace AxleTelemetry.Messages.Refusals;

/// <summary>
/// What one message had refused: every refusal counted by reason, the first <see cref="DetailLimit"/> kept in words, so
/// that a message of nothing but rubbish costs little. Reused from message to message by its owner.
/// </summary>
public sealed class RefusalLog
{
    /// <summary>Refusals kept in words; those beyond are counted only.</summary>
    public const int DetailLimit = 16;

    private static readonly int Reasons = Enum.GetValues<RefusalReason>().Length;
    private readonly int[] counts = new int[Reasons];
    private readonly List<Refusal> details = [];

    /// <summary>All refusals of the message.</summary>
    public int Total { get; private set; }

    /// <summary>The first refusals in words, in the order met. A copy; empty costs nothing.</summary>
    public ImmutableArray<Refusal> Details => [.. details];

    /// <summary>How often a reason was met.</summary>
    public int Count(RefusalReason reason) => counts[(int)reason];

    /// <summary>Whether the next refusal is still kept in words: ask before building them.</summary>
    internal bool WantsDetail => details.Count < DetailLimit;

    internal void Add(Refusal refusal)
    {
        Count(refusal.Reason, 1);
        if (WantsDetail) details.Add(refusal);
    }

    internal void Count(RefusalReason reason, int times)
    {
        counts[(int)reason] += times;
        Total += times;
    }

    internal void Clear()
    {
        if (Total == 0) return;
        Array.Clear(counts);
        details.Clear();
        Total = 0;
    }
}

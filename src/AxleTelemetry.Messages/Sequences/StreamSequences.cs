using System.Collections.Immutable;
using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Messages.Sequences;

/// <summary>
/// Follows the running numbers of one stream of one vehicle over the boots of its device. Immutable. The last
/// <see cref="BootLimit"/> boots are followed side by side, since a device that stored messages sends those of an earlier
/// boot after newer ones; of older boots only the sums are kept.
/// </summary>
public sealed record StreamSequences
{
    /// <summary>Boots followed at once.</summary>
    public const int BootLimit = 4;

    /// <summary>Nothing seen yet.</summary>
    public static StreamSequences Empty { get; } = new();

    private StreamSequences()
    {
    }

    /// <summary>The boots followed, the one last begun at the end.</summary>
    public ImmutableArray<BootSequence> Boots { get; private init; } = [];

    /// <summary>Starts of the device seen after the first.</summary>
    public long Restarts { get; private init; }

    /// <summary>Numbers missing, over all boots.</summary>
    public long Missing => Boots.Aggregate(MissingBefore, (sum, boot) => Add(sum, boot.Tracker.Missing));

    /// <summary>Messages whose number came before in its boot, over all boots.</summary>
    public long Repeated => Boots.Aggregate(RepeatedBefore, (sum, boot) => Add(sum, boot.Tracker.Repeated));

    private long MissingBefore { get; init; }

    private long RepeatedBefore { get; init; }

    /// <summary>After one more message with a number. A boot id not among those followed is a new boot.</summary>
    public StreamSequences Take(long sequence, BootId? boot)
    {
        for (var i = Boots.Length - 1; i >= 0; i--)
        {
            if (Boots[i].Boot != boot) continue;
            // Without a mark only the latest boot can be told, and only the fall of the number tells of a new one.
            if (boot is null && Boots[i].Tracker.IsRestart(sequence)) break;
            return this with { Boots = Boots.SetItem(i, new BootSequence(boot, Boots[i].Tracker.Take(sequence))) };
        }

        return Begin(new BootSequence(boot, default(SequenceTracker).Take(sequence)));
    }

    private StreamSequences Begin(BootSequence begun)
    {
        var restarts = Boots.IsEmpty ? 0 : Restarts + 1;
        if (Boots.Length < BootLimit) return this with { Boots = Boots.Add(begun), Restarts = restarts };
        return this with
        {
            Boots = Boots.RemoveAt(0).Add(begun),
            Restarts = restarts,
            MissingBefore = Add(MissingBefore, Boots[0].Tracker.Missing),
            RepeatedBefore = Add(RepeatedBefore, Boots[0].Tracker.Repeated),
        };
    }

    private static long Add(long a, long b) => a > long.MaxValue - b ? long.MaxValue : a + b;
}

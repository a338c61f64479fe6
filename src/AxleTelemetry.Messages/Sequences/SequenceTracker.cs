namespace AxleTelemetry.Messages.Sequences;

/// <summary>
/// Follows the running numbers of one stream through one boot of a device and counts what is missing. Pure: a value that is
/// replaced by what <see cref="Take"/> returns. Finds gaps only: what a message says counts whatever its number.
/// </summary>
/// <remarks>
/// A number below the highest fills its gap if it comes within <see cref="Window"/> numbers; after that it is counted as late
/// and its gap stays open, since whether it came before is no longer known. <c>default</c> has seen nothing.
/// </remarks>
public readonly record struct SequenceTracker
{
    /// <summary>How far back it is remembered which numbers came.</summary>
    public const int Window = 128;

    /// <summary>Messages taken.</summary>
    public long Messages { get; private init; }

    /// <summary>The first number; nothing is known of those before it. 0 while <see cref="Messages"/> is 0.</summary>
    public long First { get; private init; }

    /// <summary>The highest number so far. 0 while <see cref="Messages"/> is 0.</summary>
    public long Highest { get; private init; }

    /// <summary>Numbers skipped and not come since.</summary>
    public long Missing { get; private init; }

    /// <summary>Messages whose number came before.</summary>
    public long Repeated { get; private init; }

    /// <summary>Messages below the first number, or too far below the highest to know whether they came before.</summary>
    public long Late { get; private init; }

    // Bit i stands for Highest - i.
    private UInt128 Seen { get; init; }

    /// <summary>The tracker after one more message. Throws <see cref="ArgumentOutOfRangeException"/> for a negative number.</summary>
    public SequenceTracker Take(long sequence)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(sequence);
        if (Messages == 0) return new SequenceTracker { Messages = 1, First = sequence, Highest = sequence, Seen = UInt128.One };
        var next = this with { Messages = Messages + 1 };
        return sequence > Highest ? next.Ahead(sequence) : next.Behind(sequence);
    }

    /// <summary>Whether a number says, without a boot id, that the device started again: it fell by more than 100, or to 0 or 1.</summary>
    public bool IsRestart(long sequence) => Messages > 0 && sequence < Highest && (sequence <= 1 || Highest - sequence > 100);

    // The steps of one boot add up to Highest - First, so Missing cannot overflow.
    private SequenceTracker Ahead(long sequence)
    {
        var step = sequence - Highest;
        var shifted = step >= Window ? UInt128.Zero : Seen << (int)step;
        return this with { Seen = shifted | UInt128.One, Highest = sequence, Missing = Missing + step - 1 };
    }

    private SequenceTracker Behind(long sequence)
    {
        var back = Highest - sequence;
        if (sequence < First || back >= Window) return this with { Late = Late + 1 };
        var bit = UInt128.One << (int)back;
        return (Seen & bit) != 0
            ? this with { Repeated = Repeated + 1 }
            : this with { Seen = Seen | bit, Missing = Missing - 1 };
    }
}

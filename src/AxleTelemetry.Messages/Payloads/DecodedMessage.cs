using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// What a message said, in a buffer that its owner reuses: valid until the next decode into it. Not for two threads.
/// Grows to the largest message seen and no further than <see cref="ContractLimits.MaxBytes"/> of payload can make it.
/// </summary>
public sealed class DecodedMessage
{
    private readonly List<Reading> readings = new(256);
    private readonly List<CouplingStatement> couplings = [];

    /// <summary>
    /// The readings, sample after sample as sent; within a sample in the order of <see cref="Reading.CompareTo"/>. A key that
    /// stands twice in a sample gives two readings, the lesser first, so that the greater counts.
    /// </summary>
    public ReadOnlySpan<Reading> Readings => CollectionsMarshal.AsSpan(readings);

    /// <summary>The coupling statements, as sent.</summary>
    public ReadOnlySpan<CouplingStatement> Couplings => CollectionsMarshal.AsSpan(couplings);

    /// <summary>The presence, when the message states one.</summary>
    public PresenceStatement? Presence { get; internal set; }

    /// <summary>The running number, when given and right.</summary>
    public long? Sequence { get; internal set; }

    /// <summary>The mark of the device's start, when given and right.</summary>
    public BootId? Boot { get; internal set; }

    /// <summary>Samples in the message, refused ones among them.</summary>
    public int Samples { get; internal set; }

    /// <summary>What was not taken.</summary>
    public RefusalLog Refusals { get; } = new();

    /// <summary>Why nothing of the message counts; <c>null</c> when what it says counts, less the refusals.</summary>
    public Refusal? RefusedWhole { get; private set; }

    internal int ReadingCount => readings.Count;

    internal void Clear()
    {
        Forget();
        Refusals.Clear();
        RefusedWhole = null;
    }

    internal void Add(Reading reading) => readings.Add(reading);

    internal void Add(CouplingStatement coupling) => couplings.Add(coupling);

    internal void DropFrom(int start) => CollectionsMarshal.SetCount(readings, start);

    /// <summary>Takes out readings of one kind and key from a sample.</summary>
    internal int Remove(int start, ReadingKind kind, ushort key)
    {
        var kept = start;
        for (var i = start; i < readings.Count; i++)
        {
            if (readings[i].Kind != kind || readings[i].Key != key) readings[kept++] = readings[i];
        }

        var removed = readings.Count - kept;
        DropFrom(kept);
        return removed;
    }

    /// <summary>Says of the lifts of a sample who moved them and why: it may stand ahead of them or behind.</summary>
    internal void SayOfLifts(int start, LiftBy by, LiftReason reason)
    {
        foreach (ref var reading in CollectionsMarshal.AsSpan(readings)[start..])
            if (reading.Kind == ReadingKind.Lift)
                reading = reading with { Value = LiftWord.With(reading.Value, by, reason) };
    }

    /// <summary>Gives a sample's readings their moment, known only at its end, and their order.</summary>
    internal void Close(int start, Moment at)
    {
        var sample = CollectionsMarshal.AsSpan(readings)[start..];
        foreach (ref var reading in sample) reading = reading with { At = at };
        SampleOrder.Sort(sample);
    }

    internal void RefuseWhole(Refusal refusal)
    {
        Forget();
        RefusedWhole = refusal;
        Refusals.Add(refusal);
    }

    private void Forget()
    {
        readings.Clear();
        couplings.Clear();
        Presence = null;
        Sequence = null;
        Boot = null;
        Samples = 0;
    }
}

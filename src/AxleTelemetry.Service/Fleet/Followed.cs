using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Service.Fleet;

/// <summary>A vehicle that messages come from: its readings in their order, and what was counted.</summary>
internal abstract class Followed(VehicleName name, Described described)
{
    private readonly HashSet<long> _late = [];

    /// <summary>Who it is.</summary>
    public VehicleName Name { get; } = name;

    /// <summary>Its description.</summary>
    public Described Described { get; } = described;

    /// <summary>What was counted of it.</summary>
    public VehicleCounts Counts { get; } = new();

    /// <summary>Its readings that wait to be taken.</summary>
    public ReadingQueue Queue { get; } = new();

    /// <summary>When its last message was received; <c>default</c> before the first.</summary>
    public Moment LastReceived { get; set; }

    /// <summary>What it last said of its connection; <c>null</c> where it never did.</summary>
    public bool? Online { get; set; }

    /// <summary>What it last said of its lifts and suspension, in the order of the moments: it holds until it is said otherwise.</summary>
    protected SortedDictionary<(ReadingKind Kind, ushort Key), Reading> Words { get; } = [];

    /// <summary>Takes the next waiting reading off. Only where one waits.</summary>
    public Reading Take()
    {
        var reading = Queue.Take();
        // A late word keeps its own moment, so that a later one of those that come late is known.
        if (IsStanding(reading) && !_late.Remove(reading.At.UnixMilliseconds)) Words[(reading.Kind, reading.Key)] = reading;
        return reading;
    }

    /// <summary>Puts a reading among those that wait, and counts what became of it.</summary>
    public void Add(in Reading reading)
    {
        Counts.Readings++;
        switch (Queue.Add(reading))
        {
            case Placing.Queued:
                break;
            case Placing.Repeated:
                Counts.Repeated++;
                break;
            case Placing.Conflicting:
                Counts.Conflicting++;
                break;
            case Placing.Late:
                // Not stepped at its moment: a lane takes readings in their order only. Re-running history needs the stored readings.
                Counts.Late++;
                TakeLateWord(reading);
                break;
            default:
                throw new InvalidOperationException("A placing that nobody handles.");
        }
    }

    /// <summary>
    /// A late word of a lift or the suspension, unless a later one was taken, holds from now on: a raised axle taken for a
    /// lowered one for the rest of the trip would make every load wrong.
    /// </summary>
    private void TakeLateWord(in Reading late)
    {
        if (!IsStanding(late) || Words.TryGetValue((late.Kind, late.Key), out var word) && (word.At >= late.At || word.Value.Equals(late.Value))) return;
        Words[(late.Kind, late.Key)] = late;
        var at = Math.Max(Queue.TakenTo, _late.Count == 0 ? long.MinValue : _late.Max()) + 1;
        if (Queue.Add(late with { At = new Moment(at) }) == Placing.Queued) _late.Add(at);
    }

    private static bool IsStanding(in Reading reading) => reading.Kind == ReadingKind.Lift
        || reading.Kind == ReadingKind.Condition && (ConditionKey)reading.Key is (ConditionKey.RideHeight or ConditionKey.SuspensionMode);
}

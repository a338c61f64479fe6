using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Service.Fleet;

/// <summary>A vehicle that messages come from: its readings in their order, and what was counted.</summary>
internal abstract class Followed(VehicleName name, Described described)
{
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
                // Not stepped: a lane takes readings in their order only. Re-running history needs the stored readings.
                Counts.Late++;
                break;
            default:
                throw new InvalidOperationException("A placing that nobody handles.");
        }
    }
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Takes readings of one vehicle into a history. For readings in a row only: it is not to outlive whatever else is taken.</summary>
public readonly ref struct VehicleTaking
{
    private readonly FleetHistory _history;
    private readonly VehicleName _vehicle;
    private readonly RecentReadings _recent;
    private readonly LaneHistory? _own;

    internal VehicleTaking(FleetHistory history, VehicleName vehicle, RecentReadings recent, LaneHistory? own) =>
        (_history, _vehicle, _recent, _own) = (history, vehicle, recent, own);

    /// <summary>The unit whose lane takes the vehicle's readings of a moment; <c>null</c> for a trailer behind nobody.</summary>
    public VehicleName? UnitOf(Moment at) => _own is not null ? _vehicle : _history.TrailerUnit(_vehicle, at.UnixMilliseconds);

    /// <summary>True where a reading of a moment is looked for in the archive, which costs more than all else.</summary>
    public bool IsInArchive(Moment at) => at.UnixMilliseconds <= _recent.HeldAfter;

    /// <summary>Counts readings of a message that is known to have come before.</summary>
    public void Repeat(int readings) => _recent.Counts = _recent.Counts with { Repeated = _recent.Counts.Repeated + readings };

    /// <summary>Takes a reading, in whatever order. The archive holds those taken before, not yet this one.</summary>
    public ReadingOutcome Take(in Reading reading) =>
        Placed(reading, reading.At.UnixMilliseconds > _recent.HeldAfter ? _recent.Add(reading) : _history.PlaceInArchive(_vehicle, reading));

    /// <summary>
    /// Takes a reading that cannot be held against the archive now: as one that was not there. If it was, history comes out the same by a second run, as an
    /// archive may hold a reading twice; only the counts then say one too many.
    /// </summary>
    public ReadingOutcome TakeUnseen(in Reading reading) => Placed(reading, reading.At.UnixMilliseconds > _recent.HeldAfter ? _recent.Add(reading) : Placing.New);

    private ReadingOutcome Placed(in Reading reading, Placing placing)
    {
        if (placing is Placing.Greater or Placing.Lesser) _recent.Counts = _recent.Counts with { Conflicting = _recent.Counts.Conflicting + 1 };
        if (placing == Placing.Lesser) return ReadingOutcome.Lesser;
        if (placing == Placing.Repeated)
        {
            _recent.Counts = _recent.Counts with { Repeated = _recent.Counts.Repeated + 1 };
            return ReadingOutcome.Repeated;
        }

        _recent.NoteNewest(reading.At.UnixMilliseconds);
        return Counted(_own is { } lane ? lane.Note(reading.At.UnixMilliseconds) : _history.NoteTrailer(_vehicle, reading));
    }

    private ReadingOutcome Counted(Lateness lateness)
    {
        var counts = _recent.Counts;
        switch (lateness)
        {
            case Lateness.InTime:
                _recent.Counts = counts with { Taken = counts.Taken + 1 };
                return ReadingOutcome.Taken;
            case Lateness.Late:
                _recent.Counts = counts with { Taken = counts.Taken + 1, Late = counts.Late + 1 };
                return ReadingOutcome.Late;
            case Lateness.TooLate:
                _recent.Counts = counts with { TooLate = counts.TooLate + 1 };
                return ReadingOutcome.TooLate;
            default:
                throw new InvalidOperationException("Lateness has no fourth case.");
        }
    }
}

using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>A history that inputs are delivered to, with its archive; stopped and started again at will.</summary>
internal sealed class Delivery(HistorySettings settings)
{
    private readonly List<Correction> _running = [];
    private readonly HistoryChange _change = new();

    public MemoryArchive Archive { get; } = new();

    public FleetHistory History { get; private set; } = null!;

    public int Corrections { get; private set; }

    public static Delivery Begin(HistorySettings settings)
    {
        var delivery = new Delivery(settings);
        delivery.History = new FleetHistory(delivery.Archive, settings);
        return delivery;
    }

    public void Take(Input input)
    {
        switch (input)
        {
            case Input.Read read: Take(read.Vehicle, read.Reading); break;
            case Input.Coupled coupled: History.Take(coupled.Statement); break;
            case Input.Set set: History.Take(set.Version); break;
            default: throw new InvalidOperationException("Unknown input.");
        }
    }

    public ReadingOutcome Take(VehicleName vehicle, in Reading reading)
    {
        var outcome = History.Take(vehicle, reading);
        Archive.Add(vehicle, reading);
        return outcome;
    }

    public void Release(VehicleName unit, long to)
    {
        History.Release(unit, new Moment(to), _change);
        Apply();
    }

    /// <summary>Begins, goes on with or ends corrections, as chance has it.</summary>
    public void Correct(SeededRandom random)
    {
        foreach (var (unit, _) in History.ToBeCorrected.ToList())
            if (_running.All(c => c.Unit != unit) && random.Chance(0.5)) _running.Add(History.Correct(unit));
        foreach (var running in _running.ToList())
            if (running.Advance(random.Whole(1, 20_000)) || random.Chance(0.1)) End(running);
    }

    /// <summary>Everything is released and corrected.</summary>
    public void End()
    {
        foreach (var running in _running.ToList()) End(running);
        foreach (var unit in History.Units.ToList()) Release(unit, long.MaxValue);
        while (History.ToBeCorrected.Select(u => u.Unit).FirstOrDefault() is { Id: not null } unit)
        {
            _running.Add(History.Correct(unit));
            End(_running[0]);
        }
    }

    /// <summary>The process dies; what was written is all there is.</summary>
    public void Crash()
    {
        var written = new ByteWriter();
        History.Write(written);
        _running.Clear();
        History = new FleetHistory(Archive, settings);
        var reader = new ByteReader(written.Written);
        Assert.True(History.Read(ref reader));
    }

    public List<string> Rows() => [.. Archive.Rows.Select(r => Convert.ToHexString(r.Bytes.Span))];

    private void End(Correction correction)
    {
        _running.Remove(correction);
        correction.Finish(_change);
        Apply();
        Corrections++;
    }

    private void Apply()
    {
        Archive.Apply(_change);
        _change.Clear();
    }
}

using AxleTelemetry.Domain.Findings;
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
    private readonly SortedSet<VehicleName> _vehicles = [];
    private long _newest;

    public MemoryArchive Archive { get; } = new();

    public FleetHistory History { get; private set; } = null!;

    public int Corrections { get; private set; }

    /// <summary>What lanes said, in order.</summary>
    public List<LaneOutput> Said { get; } = [];

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
            case Input.Coupled coupled: Take(coupled.Statement); break;
            case Input.Set set: Take(set.Version); break;
            default: throw new InvalidOperationException("Unknown input.");
        }
    }

    public void Take(CouplingStatement statement)
    {
        _vehicles.Add(statement.By);
        _newest = Math.Max(_newest, statement.At.UnixMilliseconds);
        History.Take(statement);
    }

    public void Take(SettingsVersion version)
    {
        _vehicles.Add(version.Of);
        _newest = Math.Max(_newest, version.From.UnixMilliseconds);
        History.Take(version);
    }

    public ReadingOutcome Take(VehicleName vehicle, in Reading reading)
    {
        _vehicles.Add(vehicle);
        _newest = Math.Max(_newest, reading.At.UnixMilliseconds);
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

    /// <summary>Everything that was taken is released and corrected. No further: a lane that stands at the end of time forgets what it could be run again from.</summary>
    public void End()
    {
        foreach (var running in _running.ToList()) End(running);
        foreach (var unit in History.Units.ToList()) Release(unit, _newest);
        while (History.ToBeCorrected.Select(u => u.Unit).FirstOrDefault() is { Id: not null } unit)
        {
            _running.Add(History.Correct(unit));
            End(_running[0]);
            Release(unit, _newest);
        }
    }

    /// <summary>The process ends; what was written is all there is. After a kill the lanes are not in it.</summary>
    public void Restart(bool killed)
    {
        var before = History;
        _running.Clear();
        History = new FleetHistory(Archive, settings);
        foreach (var vehicle in _vehicles.Reverse()) Restore(before, vehicle, killed);
        foreach (var unit in before.Units)
            if (before.MarkOf(unit) is { } mark) History.Mark(unit, mark);
        foreach (var unit in History.Units.ToList()) History.Settle(unit);
    }

    private void Restore(FleetHistory before, VehicleName vehicle, bool killed)
    {
        var isUnit = before.Units.Contains(vehicle);
        Copy(to => before.WriteFacts(vehicle, to), (ref ByteReader from) => History.ReadFacts(vehicle, ref from));
        if (isUnit) Copy(to => before.WriteUnit(vehicle, to, !killed), (ref ByteReader from) => History.ReadUnit(vehicle, ref from));
        Copy(to => before.WritePulse(vehicle, to), (ref ByteReader from) => History.ReadPulse(vehicle, ref from));
    }

    private static void Copy(Action<ByteWriter> write, Restoring read)
    {
        var bytes = new ByteWriter();
        write(bytes);
        var from = new ByteReader(bytes.Written);
        Assert.True(read(ref from));
    }

    private delegate bool Restoring(ref ByteReader from);

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
        Said.AddRange(_change.Outputs.Select(o => o.Output));
        _change.Clear();
    }
}

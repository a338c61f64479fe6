using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;

namespace AxleTelemetry.Service.Watching;

/// <summary>Tells what every batch of a shard brought to light.</summary>
internal sealed class WatchTelling(Shard shard, MemoryStore store, Action<FleetEvent> tell)
{
    private const int MostNames = 1000;

    private readonly ToldFindings _told = new();
    private readonly Dictionary<VehicleName, ImmutableArray<string>> _pulls = [];
    private readonly HashSet<VehicleName> _stopped = [], _unknown = [];

    /// <summary>The batch made last is written.</summary>
    public void Told(Moment now)
    {
        if (store.Last is not { } batch) return;
        foreach (var refused in batch.Refusals) Tell(refused);
        foreach (var checkpoint in batch.Checkpoints)
            if (checkpoint.Kind == Codes.Pulse) TellCoupling(Codes.Of(checkpoint.Vehicle), now);
        foreach (var done in shard.Corrections) Tell(done);
        foreach (var (members, output) in shard.Said) Tell(members, output);
        foreach (var (unit, why) in shard.State.Stopped)
            if (_stopped.Add(unit)) tell(new FleetEvent.Stopped(unit, shard.State.History.NewestOf(unit) ?? now, why));
    }

    private void Tell(RefusalRow row)
    {
        var vehicle = row.Vehicle == VehicleKey.Shard ? default : Codes.Of(row.Vehicle);
        if (row.Reason == Codes.UnknownVehicleRefusal)
        {
            if (_unknown.Count < MostNames && _unknown.Add(vehicle)) tell(new FleetEvent.Unknown(vehicle, row.Received));
            return;
        }

        foreach (var refusal in RefusedBytes.Read(row.Bytes.AsSpan())?.Refusals ?? []) tell(new FleetEvent.Refused(vehicle, row.Received, refusal));
    }

    private void Tell(ImmutableArray<LaneMember> members, LaneOutput output)
    {
        var unit = members[0].Vehicle;
        if (output is LaneOutput.Episode episode) _told.Take(unit, episode);
        tell(new FleetEvent.Said(unit, shard.State.Setups.Of(members).Combination, output));
    }

    private void Tell(Correction done)
    {
        foreach (var (finding, change) in _told.Take(done))
        {
            var row = change == Revision.Withdrawn ? null : store.Find(new RowKey(done.Unit, Domain.Histories.RowKind.Episode, finding.Since, finding.Key));
            var members = row?.Members ?? [];
            var combination = members.IsEmpty ? shard.State.History.LaneOf(done.Unit)?.Setup.Combination : shard.State.Setups.Of(members).Combination;
            if (combination is not null) tell(new FleetEvent.Revised(done.Unit, change == Revision.Ended ? finding.Ended!.Value : finding.Since, combination, finding, change) { Row = row });
        }
    }

    private void TellCoupling(VehicleName unit, Moment now)
    {
        if (shard.State.History.LaneOf(unit) is not { } lane) return;
        var vehicles = lane.Setup.Combination.Vehicles;
        var known = _pulls.GetValueOrDefault(unit, []);
        if (known.Length == vehicles.Length - 1 && known.SequenceEqual(vehicles.Skip(1).Select(v => v.Id))) return;
        _pulls[unit] = [.. vehicles.Skip(1).Select(v => v.Id)];
        tell(new FleetEvent.Coupled(unit, shard.State.History.LastChangeOf(unit) ?? now, _pulls[unit]));
    }
}

using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Watching;

/// <summary>
/// What a watch remembers, so that a day of it needs no more memory than its third hour. Of each vehicle the messages stay from which its lane can be
/// run again; those about lifts and conditions longer, as a trailer's are looked for when it is coupled.
/// </summary>
internal sealed class WatchHorizon(ShardState state, MemoryStore store)
{
    /// <summary>How far back what comes late is put in its place.</summary>
    public static readonly TimeSpan Length = TimeSpan.FromHours(2);

    // A vehicle that is silent must not keep what others send for ever.
    private const double Every = 600, Longest = 24 * 3600;

    private Moment _sweptAt;

    /// <summary>Time went on: what nobody will ask for goes.</summary>
    public void Sweep(Moment now)
    {
        if (_sweptAt == default) _sweptAt = now;
        if (now.SecondsSince(_sweptAt) < Every) return;
        _sweptAt = now;
        foreach (var (vehicle, before) in Bounds()) Forget(vehicle, before);
    }

    private Dictionary<VehicleName, Moment> Bounds()
    {
        var bounds = new Dictionary<VehicleName, Moment>();
        foreach (var vehicle in state.AllFollowed)
            if (state.History.NewestOf(vehicle.Name) is { } newest) bounds[vehicle.Name] = newest.Plus(-Length.TotalSeconds);
        foreach (var unit in state.History.Units)
        {
            // Before its first snapshot a lane is run again from the beginning.
            var oldest = store.OldestSnapshot(Codes.Of(unit)) ?? FleetHistory.Beginning;
            foreach (var member in state.History.MembersOf(unit))
                if (bounds.TryGetValue(member, out var before) && oldest < before) bounds[member] = oldest;
        }

        return bounds;
    }

    private void Forget(VehicleName vehicle, Moment before)
    {
        var newest = state.History.NewestOf(vehicle)!.Value;
        var least = newest.Plus(-Longest);
        store.Forget(Codes.Of(vehicle), before < least ? least : before, row => IsWord(row) && row.Samples.Greatest >= newest.Plus(-StandingWord.LooksBack));
    }

    private static bool IsWord(InputRow row) => row.Stream is { } stream && (UpStream)stream.Code is UpStream.Lift or UpStream.Condition;
}

using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Puts a shard's state together from what its last batches left.</summary>
internal static class Restoration
{
    private const int Page = 1000;

    /// <summary>Restores everything. Lanes that were not left by a clean stop are marked to be run again from their last snapshot.</summary>
    /// <exception cref="InvalidDataException">Something in the journal cannot be read by this release.</exception>
    public static void Restore(JournalReader reader, ShardState state, long lastBatch)
    {
        RestoreConfigurations(reader, state);
        var desk = new CheckpointDesk(state);
        (VehicleKey, RowKind)? after = null;
        for (var page = reader.Checkpoints(after, Page); !page.IsEmpty; page = reader.Checkpoints(after, Page))
        {
            foreach (var kept in page)
                if (!desk.Restore(kept.Row))
                    throw new InvalidDataException($"What the journal keeps of vehicle '{kept.Row.Vehicle.Vehicle}' (kind {kept.Row.Kind.Code}) cannot be read by this release.");
            after = (page[^1].Row.Vehicle, page[^1].Row.Kind);
        }

        foreach (var mark in reader.Corrections()) state.History.Mark(Codes.Of(mark.Vehicle), mark.Since);
        foreach (var vehicle in state.AllFollowed)
            if (state.History.NewestOf(vehicle.Name) is { } newest) vehicle.Marks.Restore(newest.UnixMilliseconds);
        foreach (var unit in state.History.Units.ToList()) Settle(state, unit);
        // Everything up to the last batch was told; what it tells goes on behind it.
        state.AlertDesk.Book = state.AlertDesk.Book with { Through = new LogPosition(lastBatch, int.MaxValue) };
        foreach (var vehicle in state.AllFollowed) Hear(state, vehicle);
    }

    private static void Settle(ShardState state, VehicleName unit)
    {
        state.History.Settle(unit);
        if (state.History.LastChangeOf(unit) is { } last) state.Releases.Owe(unit, last.UnixMilliseconds);
        if (state.History.MembersOf(unit).Max(m => state.History.NewestOf(m)?.UnixMilliseconds) is { } newest) state.Releases.Restore(unit, newest);
    }

    private static void RestoreConfigurations(JournalReader reader, ShardState state)
    {
        var query = new InputQuery(VehicleKey.Shard, new SampleSpan(new(long.MinValue), new(long.MaxValue))) { Limit = Page };
        var found = new List<LoggedInput>();
        for (var page = reader.Inputs(query); !page.IsEmpty; page = reader.Inputs(query))
        {
            found.AddRange(page.Where(i => i.Row.Kind == Codes.ConfigurationInput));
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        foreach (var input in found.OrderBy(i => i.Position)) ConfigurationDesk.Restore(state, input);
    }

    // The alerts were kept when they last changed; the vehicle was heard since.
    private static void Hear(ShardState state, FollowedVehicle vehicle)
    {
        if (vehicle.HeardAt is not { } at) return;
        vehicle.ToldHeardAt = at;
        var book = state.AlertDesk.Book;
        var alerts = book.Vehicles.GetValueOrDefault(vehicle.Name, VehicleAlerts.Empty);
        state.AlertDesk.Book = book with { Vehicles = book.Vehicles.SetItem(vehicle.Name, alerts with { Hearing = alerts.Hearing.Hear(at) }) };
    }
}

using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Takes configurations: swapped whole between two batches, kept in the log, in force for what comes after.</summary>
internal static class ConfigurationDesk
{
    /// <summary>A further configuration of the files.</summary>
    public static void Take(ShardState state, FleetConfiguration next, BatchDraft draft)
    {
        var entry = state.Log.Add(draft.Number, From(state, draft.Now, next), next);
        draft.Add(new InputRow
        {
            Vehicle = VehicleKey.Shard,
            Kind = Codes.ConfigurationInput,
            Received = draft.Now,
            // Where it holds from is part of the log: it must come out the same when the log is read again.
            Samples = SampleSpan.At(entry.Number == 1 ? draft.Now : entry.From),
            Bytes = [.. next.ToBytes()],
        });
        state.Described();
        foreach (var fleet in next.Fleets)
            foreach (var vehicle in fleet.Vehicles)
                Take(state, new VehicleName(fleet.Name, vehicle.Description.Id), entry, draft);
    }

    /// <summary>A configuration that stands in the log.</summary>
    /// <exception cref="InvalidDataException">This release cannot read it.</exception>
    public static void Restore(ShardState state, LoggedInput input)
    {
        switch (FleetConfiguration.Parse(input.Row.Bytes.AsSpan()))
        {
            case ConfigurationResult.Built built:
                state.Log.Add(input.Position.Batch, state.Log.Any ? input.Row.Samples.Least : FleetHistory.Beginning, built.Configuration);
                state.Described();
                break;
            case ConfigurationResult.Refused refused:
                throw new InvalidDataException($"The configuration of batch {input.Position.Batch} cannot be read: {string.Join("; ", refused.Errors.Take(3))}");
            default:
                throw new InvalidOperationException("An outcome of parsing that nobody handles.");
        }
    }

    private static void Take(ShardState state, VehicleName vehicle, ConfigurationLog.Entry entry, BatchDraft draft)
    {
        foreach (var version in VehicleVersions.Brought(vehicle, entry, state.Log))
        {
            state.History.Take(version);
            draft.Touched.Add((vehicle, Codes.Facts));
        }
    }

    /// <summary>After everything that can have been accepted so far, so that no message was read by another description than held at its samples.</summary>
    private static Moment From(ShardState state, Moment now, FleetConfiguration next)
    {
        if (!state.Log.Any) return FleetHistory.Beginning;
        var skew = Math.Max(state.Configuration.AllowedClockSkew.TotalMilliseconds, next.AllowedClockSkew.TotalMilliseconds);
        var newest = state.AllFollowed.Max(v => v.HeardAt?.UnixMilliseconds) ?? 0;
        return new Moment(Math.Max(Math.Max(now.UnixMilliseconds, newest) + (long)skew, state.Log.Latest.From.UnixMilliseconds + 1));
    }
}

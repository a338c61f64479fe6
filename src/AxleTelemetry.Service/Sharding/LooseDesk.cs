using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Tells trailers that roll and that nobody says to pull. It is telling, not history: a claim that comes late makes a trailer somebody's from its own moment
/// on, and what was told until then was right when it was told.
/// </summary>
internal sealed class LooseDesk(ShardState state)
{
    private static readonly FindingKey Found = new(FindingKind.TrailerUnclaimed, default, 0);

    private readonly Dictionary<VehicleName, LooseTrailer> _watched = [];

    /// <summary>Readings of a trailer that hangs on nobody, as they came.</summary>
    public void Take(FollowedVehicle trailer, ReadOnlySpan<Reading> readings, BatchDraft draft)
    {
        var sensors = trailer.Described.Vehicle.Sensors.Length;
        if (sensors == 0) return;
        if (!_watched.TryGetValue(trailer.Name, out var watch) || watch.Sensors != sensors) _watched[trailer.Name] = watch = new LooseTrailer(sensors);
        draft.Touched.Add((trailer.Name, Codes.Loose));
        foreach (ref readonly var reading in readings)
            if (watch.Take(reading) is { } since && OpenSince(trailer.Name) is null)
                Tell(trailer.Name, EpisodeChange.Opened, reading.At, since, draft);
    }

    /// <summary>Somebody says that a trailer hangs on them, from a moment on.</summary>
    public void Claimed(VehicleName trailer, Moment at, BatchDraft draft)
    {
        if (!_watched.Remove(trailer)) return;
        draft.Touched.Add((trailer, Codes.Loose));
        if (OpenSince(trailer) is { } since) Tell(trailer, EpisodeChange.Closed, at > since ? at : since, since, draft);
    }

    /// <summary>Writes what is known of a trailer; nothing where it is not watched.</summary>
    public void Write(VehicleName trailer, ByteWriter to)
    {
        if (_watched.TryGetValue(trailer, out var watch)) watch.Write(to);
    }

    /// <summary>Reads what was written. False where the bytes are not whole.</summary>
    public bool Read(VehicleName trailer, ref ByteReader from)
    {
        if (from.Left == 0) return true;
        if (LooseTrailer.Read(ref from) is not { } watch) return false;
        _watched[trailer] = watch;
        return true;
    }

    private Moment? OpenSince(VehicleName trailer)
    {
        if (!state.Alerts.Vehicles.TryGetValue(trailer, out var alerts)) return null;
        foreach (var alert in alerts.Alerts)
            foreach (var episode in alert.Episodes)
                if (episode.Holds && episode.Subject.Finding == Found)
                    return episode.Since;
        return null;
    }

    private void Tell(VehicleName trailer, EpisodeChange change, Moment at, Moment since, BatchDraft draft) =>
        state.AlertDesk.Loose(trailer, new LaneOutput.Episode(at, Found, change, change == EpisodeChange.Closed ? Level.Clear : Level.Likely, since, new FindingDetail.None()), draft);
}

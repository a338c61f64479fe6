using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>One unit: its track as far as it was stepped, from when on it is to be corrected, and up to when there are snapshots.</summary>
internal sealed class LaneHistory(VehicleName unit, HistorySettings settings, MarkedLanes marked)
{
    private (long SteppedTo, byte[] Track)? _kept;

    /// <summary>The track; <c>null</c> before the first step, and where it is lost.</summary>
    public LaneTrack? Track { get; set; }

    /// <summary>Everything up to this moment was stepped, Unix milliseconds.</summary>
    public long SteppedTo { get; set; } = long.MinValue;

    /// <summary>From when on history is to be corrected; <c>null</c> where nothing came late.</summary>
    public long? CorrectFrom
    {
        get;
        set
        {
            if (value != field) marked.Set(unit, value);
            field = value;
        }
    }

    /// <summary>From when on history is being corrected now; <c>null</c> where it is not.</summary>
    public long? Correcting { get; set; }

    /// <summary>The earlier of both: from here on rows may not be right yet.</summary>
    public long? OldestMark => CorrectFrom is { } a && Correcting is { } b ? Math.Min(a, b) : CorrectFrom ?? Correcting;

    /// <summary>True where something came late since it was last looked at.</summary>
    public bool CameLate { get; set; }

    /// <summary>Snapshots.</summary>
    public SnapshotShelf Shelf { get; } = new(settings);

    /// <summary>True where it was stepped and its track is lost: nothing is stepped until a second run has found it again.</summary>
    public bool IsLost => Track is null && SteppedTo != long.MinValue;

    /// <summary>Says what a reading of a moment, or a word that holds after it, means for what was stepped; notes what is to be corrected.</summary>
    public Lateness Note(long at)
    {
        if (at > SteppedTo || SteppedTo == long.MinValue) return Lateness.InTime;
        at = Math.Max(at, long.MinValue + 1);
        if (Shelf.Before(at) is null) return Lateness.TooLate;
        CorrectFrom = Math.Min(at, CorrectFrom ?? long.MaxValue);
        CameLate = true;
        return Lateness.Late;
    }

    /// <summary>The track is not to be trusted: a second run from the newest snapshot finds it again.</summary>
    public void Lose()
    {
        Track = null;
        if (SteppedTo == long.MinValue) return;
        CorrectFrom = Math.Min(OldestMark ?? long.MaxValue, Shelf.Newest + 1);
        Correcting = null;
    }

    /// <summary>A second run was given up: all that it was for is still to be done.</summary>
    public void PutOff() => (CorrectFrom, Correcting) = (OldestMark, null);

    /// <summary>Writes snapshots' moments, and the track where it is to be found again without a second run.</summary>
    public void Write(ByteWriter to, bool withTrack)
    {
        Shelf.Write(to);
        to.Flag(withTrack && Track is not null);
        if (!withTrack || Track is null) return;
        to.Long(SteppedTo);
        var track = new ByteWriter();
        Track.Write(track);
        to.Int(track.Written.Length);
        to.Raw(track.Written);
    }

    /// <summary>Reads what was written.</summary>
    public void Read(ref ByteReader from)
    {
        Shelf.Read(ref from);
        if (!from.Flag()) return;
        var steppedTo = from.Long();
        var bytes = new byte[from.Count()];
        from.Raw<byte>(bytes);
        if (!from.Failed) _kept = (steppedTo, bytes);
    }

    /// <summary>Takes up the track that was written, if it is of the moment that was stepped to and of this version; otherwise it is lost.</summary>
    public void Settle()
    {
        var kept = _kept;
        _kept = null;
        if (kept is { } written && written.SteppedTo == SteppedTo)
        {
            var reader = new ByteReader(written.Track);
            if (LaneTrack.Read(ref reader, settings.Setup) is TrackResult.Restored restored)
            {
                Track = restored.Track;
                return;
            }
        }

        Lose();
    }
}

/// <summary>Whether something came in time.</summary>
internal enum Lateness
{
    /// <summary>Its moment was not stepped yet.</summary>
    InTime,

    /// <summary>History is to be corrected.</summary>
    Late,

    /// <summary>History cannot be run again from so long ago.</summary>
    TooLate,
}

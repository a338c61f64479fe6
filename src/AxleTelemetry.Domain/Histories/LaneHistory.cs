namespace AxleTelemetry.Domain.Histories;

/// <summary>One unit: its track as far as it was stepped, from when on it is to be corrected, and up to when there are snapshots.</summary>
internal sealed class LaneHistory(HistorySettings settings)
{
    /// <summary>The track; <c>null</c> before the first step.</summary>
    public LaneTrack? Track { get; set; }

    /// <summary>Everything up to this moment was stepped, Unix milliseconds.</summary>
    public long SteppedTo { get; set; } = long.MinValue;

    /// <summary>From when on history is to be corrected; <c>null</c> where nothing came late.</summary>
    public long? CorrectFrom { get; set; }

    /// <summary>From when on history is being corrected now; <c>null</c> where it is not.</summary>
    public long? Correcting { get; set; }

    /// <summary>The earlier of both: from here on rows may not be right yet.</summary>
    public long? OldestMark => CorrectFrom is { } a && Correcting is { } b ? Math.Min(a, b) : CorrectFrom ?? Correcting;

    /// <summary>Snapshots.</summary>
    public SnapshotShelf Shelf { get; } = new(settings);

    /// <summary>Says what a reading of a moment, or a word that holds after it, means for what was stepped; notes what is to be corrected.</summary>
    public Lateness Note(long at)
    {
        if (Track is null || at > SteppedTo) return Lateness.InTime;
        at = Math.Max(at, long.MinValue + 1);
        if (Shelf.Before(at) is null) return Lateness.TooLate;
        CorrectFrom = Math.Min(at, CorrectFrom ?? long.MaxValue);
        return Lateness.Late;
    }

    public void Write(ByteWriter to)
    {
        var from = OldestMark;
        to.Long(SteppedTo);
        to.Flag(from is not null);
        to.Long(from ?? 0);
        Shelf.Write(to);
        to.Flag(Track is not null);
        var track = new ByteWriter();
        Track?.Write(track);
        to.Int(track.Written.Length);
        to.Raw(track.Written);
    }

    /// <summary>Reads what was written. A track that another version wrote is begun anew and put right by a correction of all that can be.</summary>
    public void Read(ref ByteReader from, Func<long, LaneTrack> begin)
    {
        SteppedTo = from.Long();
        var (isLate, at) = (from.Flag(), from.Long());
        if (isLate) CorrectFrom = at;
        Shelf.Read(ref from);
        var has = from.Flag();
        var bytes = new byte[from.Count()];
        from.Raw<byte>(bytes);
        if (!has || from.Failed) return;
        var reader = new ByteReader(bytes);
        switch (LaneTrack.Read(ref reader, settings.Setup))
        {
            case TrackResult.Restored restored:
                Track = restored.Track;
                break;
            case TrackResult.Refused:
                Track = begin(SteppedTo);
                CorrectFrom = Shelf.Oldest + 1;
                break;
            default:
                throw new InvalidOperationException("Reading a track has no third result.");
        }
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

using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>How far a named reader of outputs has come.</summary>
public abstract record CursorState
{
    private CursorState()
    {
    }

    /// <summary>No such cursor: it begins at the start.</summary>
    public sealed record Unknown : CursorState;

    /// <summary>Everything up to the position is carried.</summary>
    /// <param name="Position">The last position carried.</param>
    /// <param name="MissedInAll">Rows that retention took before it came, ever.</param>
    public sealed record At(Position Position, long MissedInAll) : CursorState;

    /// <summary>Retention took rows that it has not seen. Said until it moves on.</summary>
    /// <param name="Position">The last position carried.</param>
    /// <param name="Missed">Rows gone since then.</param>
    /// <param name="MissedInAll">Rows gone ever, these among them.</param>
    public sealed record FellBehind(Position Position, long Missed, long MissedInAll) : CursorState;
}

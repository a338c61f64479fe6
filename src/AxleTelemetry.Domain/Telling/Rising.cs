using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Domain.Telling;

/// <summary>An alert became more urgent than it was ever told: it rings again, even from the shelf, as it was shelved for less.</summary>
internal static class Rising
{
    public static Alert Write(Alert alert, AlertCause cause, LaneOutput.Episode? said, Pen pen)
    {
        var graver = alert.Holds && alert.IsNews && alert.State is not (AlertState.OutOfService or AlertState.SuppressedByDesign);
        if (graver) alert = alert with { State = new AlertState.Unacknowledged() };
        return pen.Write(alert, cause, graver, said);
    }
}

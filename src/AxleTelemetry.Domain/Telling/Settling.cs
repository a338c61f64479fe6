using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>Brings the state of an alert in line with what holds and what is owed. Every way in which an alert moves ends here.</summary>
internal static class Settling
{
    /// <summary>The alert after its episodes or its notes changed.</summary>
    public static Alert Settle(Alert alert, Moment at)
    {
        var holding = alert.Episodes.Where(e => e.Holds).ToArray();
        if (holding.Length > 0) alert = alert with { Priority = holding.Max(e => e.Priority) };
        var behind = holding.Length > 0 ? Held(alert.State.Behind()) : Over(alert, at);
        if (holding.Length > 0 && behind is AlertState.Unacknowledged && alert.State.Behind() is not AlertState.Unacknowledged)
            alert = alert with { WaitingSince = at, Escalated = false };
        return alert with { State = alert.State.Over(behind) };
    }

    /// <summary>The state when somebody takes notice.</summary>
    public static AlertState.Shown Noticed(AlertState.Shown state, Act act) => state switch
    {
        AlertState.Unacknowledged or AlertState.ReturnedUnacknowledged => new AlertState.Acknowledged(act),
        AlertState.Acknowledged or AlertState.Unstated or AlertState.Normal => state,
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };

    private static AlertState.Shown Held(AlertState.Shown state) => state switch
    {
        AlertState.Unacknowledged or AlertState.Acknowledged => state,
        AlertState.Unstated unstated => new AlertState.Acknowledged(unstated.By),
        AlertState.ReturnedUnacknowledged or AlertState.Normal => new AlertState.Unacknowledged(),
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };

    private static AlertState.Shown Over(Alert alert, Moment at)
    {
        if (alert.Episodes.All(e => e.Void))
            return alert.State.Behind() is AlertState.Normal { As: ClosedAs.Corrected } same ? same : new AlertState.Normal(ClosedAs.Corrected, at);
        var end = new AlertState.Normal(alert.Notes.IsEmpty ? ClosedAs.Returned : ClosedAs.Stated, at);
        return alert.State.Behind() switch
        {
            AlertState.Unacknowledged => new AlertState.ReturnedUnacknowledged(at),
            AlertState.ReturnedUnacknowledged waiting => waiting,
            AlertState.Acknowledged noticed => alert.Owes ? new AlertState.Unstated(noticed.By, at) : end,
            AlertState.Unstated unstated => alert.Owes ? unstated : end,
            // Given up for want of room stays so: a correction must not bring back what the limit has closed.
            AlertState.Normal { As: ClosedAs.GivenUp } gone => gone,
            AlertState.Normal when alert.Owes => new AlertState.ReturnedUnacknowledged(at),
            AlertState.Normal { As: ClosedAs.Corrected } => end,
            AlertState.Normal closed => closed,
            _ => throw new ArgumentOutOfRangeException(nameof(alert), alert.State, "Unknown state."),
        };
    }
}

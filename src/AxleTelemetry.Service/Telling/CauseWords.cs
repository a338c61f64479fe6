using AxleTelemetry.Domain.Telling;
using static System.FormattableString;

namespace AxleTelemetry.Service.Telling;

/// <summary>What happened to an alert, in words.</summary>
internal sealed class CauseWords(SubjectWords subjects)
{
    public string Of(AlertCause cause) => cause switch
    {
        AlertCause.Began => "Began.",
        AlertCause.ListedLate => "Became known after it was over.",
        AlertCause.Repeated => "Came again.",
        AlertCause.Joined joined => $"Told with it from now on: {subjects.Of(joined.Subject)}.",
        AlertCause.Rose => "Became surer.",
        AlertCause.Fell => "Became less sure.",
        AlertCause.Eased eased => $"Ended in part: {subjects.Of(eased.Subject)}.",
        AlertCause.Returned => "Returned to normal.",
        AlertCause.HoldsStill => "Still holds after the backlog was taken.",
        AlertCause.Acted acted => Of(acted.Action),
        AlertCause.Reached reached => $"Reached {reached.Contact.Who} by {reached.Contact.Channel}.",
        AlertCause.NotReached missed => $"Did not reach {missed.Contact.Who} by {missed.Contact.Channel}: {missed.Contact.Why}",
        AlertCause.ShelfEnded => "Its time on the shelf ended.",
        AlertCause.Escalated => "Nobody acknowledged it in time.",
        AlertCause.Corrected => "Taken away by a correction of the history.",
        AlertCause.Restated => "Changed by a correction of the history.",
        AlertCause.GivenUp => "Given up, as too many are open on this vehicle.",
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "Unknown cause."),
    };

    private static string Of(OperatorAction action) => action switch
    {
        OperatorAction.Acknowledge => $"Acknowledged by {action.Who}.",
        OperatorAction.Shelve shelve => Invariant($"Shelved by {action.Who} until {shelve.Until}: {shelve.Reason}"),
        OperatorAction.Unshelve => $"Taken from the shelf by {action.Who}.",
        OperatorAction.StateDone done => $"{action.Who} states: {done.Text}",
        OperatorAction.TakeOutOfService take => $"Taken out of service by {action.Who}: {take.Reason}",
        OperatorAction.PutBack => $"Put back into service by {action.Who}.",
        _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
    };
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What people do about an alert: taken, or refused by name.</summary>
internal static class Handling
{
    private const int MostNotes = 32, MostText = 2000, MostContacts = 64;

    /// <summary>Why the action cannot be taken; <c>null</c> where it can.</summary>
    public static ActionRefusal? Refuse(Alert alert, OperatorAction action, Pen pen)
    {
        if (string.IsNullOrWhiteSpace(action.Who)) return ActionRefusal.NobodyNamed;
        if (alert.State is AlertState.Normal) return ActionRefusal.AlreadyClosed;
        return action switch
        {
            OperatorAction.Acknowledge => RefuseNotice(alert.State.Behind()),
            OperatorAction.Shelve shelve => RefuseShelf(alert.State, shelve, pen),
            OperatorAction.Unshelve => alert.State is AlertState.Shelved ? null : ActionRefusal.NotShelved,
            OperatorAction.StateDone done => RefuseNote(alert, done),
            OperatorAction.TakeOutOfService take => alert.State is AlertState.OutOfService ? ActionRefusal.AlreadyOutOfService : RefuseReason(take.Reason),
            OperatorAction.PutBack => alert.State is AlertState.OutOfService ? null : ActionRefusal.NotOutOfService,
            _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
        };
    }

    /// <summary>Takes an action that was not refused.</summary>
    public static Alert Take(Alert alert, OperatorAction action, Pen pen)
    {
        var act = new Act(action.Who, pen.At);
        var after = action switch
        {
            OperatorAction.Acknowledge => Notice(alert, act),
            OperatorAction.Shelve shelve => alert with { State = new AlertState.Shelved(act, shelve.Reason, shelve.Until!.Value, alert.State.Behind()) },
            OperatorAction.TakeOutOfService take => alert with { State = new AlertState.OutOfService(act, take.Reason, alert.State.Behind()) },
            OperatorAction.Unshelve or OperatorAction.PutBack => alert with { State = alert.State.Behind(), WaitingSince = pen.At, Escalated = false },
            OperatorAction.StateDone done => Notice(alert with
            {
                Notes = alert.Notes.Add(new Note(act, done.Text)),
                Episodes = [.. alert.Episodes.Select(e => e with { Stated = true })],
            }, act),
            _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
        };
        return pen.Write(Settling.Settle(after, pen.At), new AlertCause.Acted(action));
    }

    /// <summary>The alert reached somebody, or did not; beyond 64 the change alone tells.</summary>
    public static Alert Note(Alert alert, Contact contact, Pen pen)
    {
        if (alert.Contacts.Contains(contact)) return alert;
        var contacts = alert.Contacts.Length < MostContacts ? alert.Contacts.Add(contact) : alert.Contacts;
        return pen.Write(alert with { Contacts = contacts }, contact switch
        {
            Contact.Reached reached => new AlertCause.Reached(reached),
            Contact.GivenUp givenUp => new AlertCause.NotReached(givenUp),
            _ => throw new ArgumentOutOfRangeException(nameof(contact), contact, "Unknown contact."),
        });
    }

    /// <summary>What is looked at is no longer held back by a rule of ours.</summary>
    private static Alert Notice(Alert alert, Act act)
    {
        var behind = Settling.Noticed(alert.State.Behind(), act);
        return alert with { State = alert.State is AlertState.SuppressedByDesign ? behind : alert.State.Over(behind), ToldAs = alert.IsNews ? alert.Priority : alert.ToldAs };
    }

    private static ActionRefusal? RefuseNotice(AlertState.Shown behind) => behind switch
    {
        AlertState.Unacknowledged or AlertState.ReturnedUnacknowledged => null,
        AlertState.Acknowledged or AlertState.Unstated => ActionRefusal.AlreadyAcknowledged,
        AlertState.Normal => ActionRefusal.AlreadyClosed,
        _ => throw new ArgumentOutOfRangeException(nameof(behind), behind, "Unknown state."),
    };

    private static ActionRefusal? RefuseShelf(AlertState state, OperatorAction.Shelve shelve, Pen pen) => state switch
    {
        AlertState.Shelved => ActionRefusal.AlreadyShelved,
        AlertState.OutOfService => ActionRefusal.AlreadyOutOfService,
        AlertState.SuppressedByDesign => ActionRefusal.SuppressedByDesign,
        _ when RefuseReason(shelve.Reason) is { } refusal => refusal,
        _ => shelve.Until is not { } until ? ActionRefusal.EndMissing
            : until <= pen.At ? ActionRefusal.EndNotAhead
            : until.SecondsSince(pen.At) > pen.Settings.LongestShelf.TotalSeconds ? ActionRefusal.EndTooFar
            : null,
    };

    private static ActionRefusal? RefuseReason(string reason) =>
        string.IsNullOrWhiteSpace(reason) ? ActionRefusal.ReasonMissing : reason.Length > MostText ? ActionRefusal.TextTooLong : null;

    private static ActionRefusal? RefuseNote(Alert alert, OperatorAction.StateDone done)
    {
        if (string.IsNullOrWhiteSpace(done.Text)) return ActionRefusal.NoteEmpty;
        if (done.Text.Length > MostText) return ActionRefusal.TextTooLong;
        if (alert.State.Behind() is AlertState.Normal) return ActionRefusal.AlreadyClosed;
        return alert.Notes.Length >= MostNotes ? ActionRefusal.TooManyNotes : null;
    }
}

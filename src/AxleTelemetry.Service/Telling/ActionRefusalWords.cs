using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Telling;

/// <summary>Why a person's action was not taken, in a sentence, and whether it is the request or the state of the alert that is in the way.</summary>
internal static class ActionRefusalWords
{
    public static string Of(ActionRefusal refusal) => refusal switch
    {
        ActionRefusal.UnknownAlert => "There is no such alert, or it closed so long ago that it is no longer kept.",
        ActionRefusal.NobodyNamed => "'who' is empty: say who acts.",
        ActionRefusal.AlreadyClosed => "The alert is closed: nothing is left to be done.",
        ActionRefusal.AlreadyAcknowledged => "The alert is acknowledged already.",
        ActionRefusal.AlreadyShelved => "The alert is on the shelf already.",
        ActionRefusal.NotShelved => "The alert is not on the shelf.",
        ActionRefusal.ReasonMissing => "'reason' is empty: say why.",
        ActionRefusal.EndMissing => "'until' is missing: a shelf has an end.",
        ActionRefusal.EndNotAhead => "'until' is not after now.",
        ActionRefusal.EndTooFar => "'until' is further away than an alert may be shelved.",
        ActionRefusal.SuppressedByDesign => "The alert does not ring anyway: it is suppressed by design.",
        ActionRefusal.AlreadyOutOfService => "The alert is out of service: put it back first.",
        ActionRefusal.NotOutOfService => "The alert is in service.",
        ActionRefusal.NoteEmpty => "'text' is empty: say what was done.",
        ActionRefusal.TextTooLong => "The text has more than 2 000 characters.",
        ActionRefusal.TooManyNotes => "The alert has 32 statements already, which is the most it keeps.",
        _ => throw new ArgumentOutOfRangeException(nameof(refusal), refusal, "Unknown refusal."),
    };

    /// <summary>422 where the request itself is wrong, 409 where the alert stands otherwise, 404 where there is none.</summary>
    public static int Status(ActionRefusal refusal) => refusal switch
    {
        ActionRefusal.UnknownAlert => StatusCodes.Status404NotFound,
        ActionRefusal.NobodyNamed or ActionRefusal.ReasonMissing or ActionRefusal.EndMissing or ActionRefusal.EndNotAhead or ActionRefusal.EndTooFar
            or ActionRefusal.NoteEmpty or ActionRefusal.TextTooLong => StatusCodes.Status422UnprocessableEntity,
        ActionRefusal.AlreadyClosed or ActionRefusal.AlreadyAcknowledged or ActionRefusal.AlreadyShelved or ActionRefusal.NotShelved
            or ActionRefusal.SuppressedByDesign or ActionRefusal.AlreadyOutOfService or ActionRefusal.NotOutOfService or ActionRefusal.TooManyNotes =>
            StatusCodes.Status409Conflict,
        _ => throw new ArgumentOutOfRangeException(nameof(refusal), refusal, "Unknown refusal."),
    };
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What a person did, as it stands in the log.</summary>
internal static class ActionText
{
    /// <summary>The row in the log.</summary>
    public static InputRow Row(AlertId alert, OperatorAction action, Moment now) => JsonInput.Row(alert.Vehicle, Codes.ActionInput, now, Of(alert, action));

    private static Written Of(AlertId alert, OperatorAction action) => action switch
    {
        OperatorAction.Acknowledge => new Written(alert.ToString(), "acknowledge", action.Who),
        OperatorAction.Shelve shelve => new Written(alert.ToString(), "shelve", action.Who, Reason: shelve.Reason, Until: shelve.Until?.ToString()),
        OperatorAction.Unshelve => new Written(alert.ToString(), "unshelve", action.Who),
        OperatorAction.StateDone done => new Written(alert.ToString(), "state_done", action.Who, Text: done.Text),
        OperatorAction.TakeOutOfService taken => new Written(alert.ToString(), "take_out_of_service", action.Who, Reason: taken.Reason),
        OperatorAction.PutBack => new Written(alert.ToString(), "put_back", action.Who),
        _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
    };

    private sealed record Written(string Alert, string Action, string Who, string? Reason = null, string? Until = null, string? Text = null);
}

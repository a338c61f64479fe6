using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What a person did, as it stands in the log: JSON, so that whoever audits it can read it.</summary>
internal static class ActionText
{
    private static readonly JsonSerializerOptions Plain = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };

    /// <summary>The row in the log.</summary>
    public static InputRow Row(AlertId alert, OperatorAction action, Moment now) => new()
    {
        Vehicle = Codes.Of(alert.Vehicle),
        Kind = Codes.ActionInput,
        Received = now,
        Samples = SampleSpan.At(now),
        Bytes = [.. JsonSerializer.SerializeToUtf8Bytes(Of(alert, action), Plain)],
    };

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

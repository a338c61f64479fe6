using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Telling;

/// <summary>Takes what a person does about an alert.</summary>
internal static class ActionTaking
{
    private static readonly JsonSerializerOptions Strict = new(JsonText.Options) { UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow };

    public static string Summary(string action) => action switch
    {
        "acknowledge" => "Takes notice.",
        "shelve" => "Puts it aside for a time. Needs 'reason' and 'until'.",
        "unshelve" => "Takes it back from the shelf.",
        "state-done" => "States what was done. Needs 'text'.",
        "take-out-of-service" => "Lists it without ringing until it is put back. Needs 'reason'.",
        "put-back" => "Puts it back into service.",
        _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
    };

    public static async Task<IResult> TakeAsync(string action, string id, HttpContext http, Desks desks)
    {
        var (request, trouble) = await ReadAsync(http);
        if (request is null) return Problem.Field("body", trouble, "a JSON object, where needed with 'reason', 'until', 'text'; who acts is whoever is signed in and is not said");
        Moment? until = request.Until is { } text ? Asked.ReadTime(text) : null;
        if (request.Until is not null && until is null) return Problem.Field("until", request.Until, "a time by RFC 3339 with its zone, for example 2026-03-02T06:00:00Z");
        var parts = id.Split('/');
        if (desks.Find(parts[0]) is not { } desk) return AlertRoutes.NoAlert(id);
        if (await AlertRoutes.FindAsync(desk, id, http.RequestAborted) is not { } alert) return AlertRoutes.NoAlert(id);
        return await AnswerAsync(await desk.ActAsync(alert.Id, Action(action, request, (http.User.Identity?.Name ?? "", until)), http.RequestAborted), desk, http.RequestAborted);
    }

    /// <summary>The action of a request. What is left out is refused by the book, in its own words.</summary>
    public static OperatorAction Action(string action, ActionRequest request, (string Who, Moment? Until) by)
    {
        var (who, until) = by;
        return action switch
        {
            "acknowledge" => new OperatorAction.Acknowledge(who),
            "shelve" => new OperatorAction.Shelve(who, request.Reason ?? "", until),
            "unshelve" => new OperatorAction.Unshelve(who),
            "state-done" => new OperatorAction.StateDone(who, request.Text ?? ""),
            "take-out-of-service" => new OperatorAction.TakeOutOfService(who, request.Reason ?? ""),
            "put-back" => new OperatorAction.PutBack(who),
            _ => throw new ArgumentOutOfRangeException(nameof(action), action, "Unknown action."),
        };
    }

    private static async Task<IResult> AnswerAsync(ActionOutcome outcome, ShardDesk desk, CancellationToken cancel)
    {
        switch (outcome)
        {
            case ActionOutcome.Taken taken:
                var combination = await CombinationAsync(taken.Alert.Id.Vehicle, desk, cancel);
                return Results.Json(new ActionDone(AlertDocument.Of(taken.Alert, combination), [.. taken.Changes.Select(c => AlertChangeJson.Document(c, combination))]));
            case ActionOutcome.Refused refused:
                return Problem.Of(ActionRefusalWords.Status(refused.Why), "The action is not taken.", ActionRefusalWords.Of(refused.Why));
            case ActionOutcome.Unavailable unavailable:
                return Problem.Unavailable(unavailable.Why);
            case ActionOutcome.Unknown unknown:
                return Problem.Of(StatusCodes.Status503ServiceUnavailable, "It is not known whether the action was entered.", unknown.Why);
            default:
                throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "Unknown outcome.");
        }
    }

    // It is entered, and must not be answered otherwise because the shard ended meanwhile: parts are then named by their place.
    private static async Task<Combination?> CombinationAsync(VehicleName vehicle, ShardDesk desk, CancellationToken cancel)
    {
        try
        {
            return (await desk.AskAsync(s => s.Find(vehicle), cancel))?.View?.Combination;
        }
        catch (ShardNotRunningException)
        {
            return null;
        }
    }

    private static async Task<(ActionRequest? Request, string Trouble)> ReadAsync(HttpContext http)
    {
        try
        {
            return (await JsonSerializer.DeserializeAsync<ActionRequest>(http.Request.Body, Strict, http.RequestAborted), "null");
        }
        catch (JsonException wrong)
        {
            return (null, $"not readable at {wrong.Path ?? "its beginning"}");
        }
    }
}

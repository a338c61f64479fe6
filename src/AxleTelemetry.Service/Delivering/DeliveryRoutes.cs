using System.Globalization;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Delivering;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Delivering;

/// <summary>The addresses of messages about alerts: what reached whom, what waits, what was given up.</summary>
internal static class DeliveryRoutes
{
    private const int Usual = 100, Most = 500, MostUnread = 100;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/deliveries", Read)
            .Needs(Right.Look).Takes(new("state", $"Only those in this state: {string.Join(", ", DeliveryDocument.States)}. Without it those that were given up."), new("recipient", "Only those to this recipient."), QueryParameter.Limit(Usual, Most), QueryParameter.After)
            .Produces<DeliveryList>().ProducesProblem(400).ProducesProblem(404).WithSummary("Messages about alerts and what came of them, newest first.");
        api.MapPost("/deliveries/{number:long}/send-again", SendAgain)
            .Needs(Right.Act).Takes().Produces(204).ProducesProblem(404).ProducesProblem(409).WithSummary("Sends a given-up message again, under the same id.");
    }

    private static IResult Read(HttpContext http, Desks desks)
    {
        var asked = new Asked(http);
        var (state, recipient, limit, before) = (asked.OneOf("state", DeliveryDocument.States), asked.Text("recipient"), asked.Number("limit", Usual, 1, Most), asked.Number("after", int.MaxValue, 1, int.MaxValue));
        if (asked.Problem is { } problem) return problem;
        if (desks.Deliveries is not { } deliveries) return None();
        var wanted = state is null ? ParcelState.Dead : Enum.GetValues<ParcelState>().First(s => JsonText.Word(s) == state);
        var page = deliveries.In(wanted, recipient, before == int.MaxValue ? long.MaxValue : before, limit);
        return Results.Json(new DeliveryList([.. deliveries.States().Select(RecipientDocument.Of)], [.. deliveries.Unread().Take(MostUnread).Select(UnreadDocument.Of)], [.. page.Select(DeliveryDocument.Of)], page.Length == limit ? page[^1].Number.ToString(CultureInfo.InvariantCulture) : null));
    }

    private static IResult SendAgain(long number, Desks desks)
    {
        if (desks.Deliveries is not { } deliveries) return None();
        return deliveries.SendAgain(number) switch
        {
            SendingAgain.Waits => Results.NoContent(),
            SendingAgain.NotGivenUp => Problem.NotFound(FormattableString.Invariant($"There is no given-up message {number}.")),
            SendingAgain.NobodyThere nobody => Problem.Of(StatusCodes.Status409Conflict, "It cannot be sent.", nobody.Text),
            _ => throw new InvalidOperationException("An outcome of sending again that nobody handles."),
        };
    }

    private static IResult None() => Problem.NotFound("Nobody is told of alerts: 'delivery' in the settings says who.");
}

using System.Collections.Immutable;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Inspecting;

/// <summary>The address of raw messages.</summary>
internal static class MessageRoutes
{
    private const int Most = 500, LongestSeconds = 3600, UsualSeconds = 30;

    public static void Map(IEndpointRouteBuilder api) =>
        api.MapGet("/vehicles/{fleet}/{vehicle}/messages", Read)
            .Needs(Right.ReadRaw).Takes(new("at", "The moment, by the vehicle's clock, RFC 3339.", IsRequired: true), new("within_s", $"Seconds to either side: 0 to {LongestSeconds}, {UsualSeconds} where none is given."))
            .Produces<RawMessages>().ProducesProblem(400).ProducesProblem(404).WithSummary("The messages of a moment as they came.");

    private static IResult Read(string fleet, string vehicle, HttpContext http, Desks desks)
    {
        var asked = new Asked(http);
        var (at, within) = (asked.Time("at"), asked.Number("within_s", UsualSeconds, 0, LongestSeconds));
        if (asked.Problem is { } problem) return problem;
        var name = new VehicleName(fleet, vehicle);
        if (desks.Find(fleet) is not { } desk) return VehicleRoutes.NoVehicle(name);
        var span = new SampleSpan(at!.Value.Plus(-within), at.Value.Plus(within));
        var found = Messages(desk, name, span);
        return Results.Json(new RawMessages(fleet, vehicle, span.Least, span.Greatest, [.. found.Take(Most).Select(RawMessage.Of)], found.Length > Most));
    }

    /// <summary>One more than are given, to know whether there are more. Inputs of other kinds lie between the messages, so pages are read on.</summary>
    public static ImmutableArray<LoggedInput> Messages(ShardDesk desk, VehicleName name, SampleSpan span)
    {
        var messages = ImmutableArray.CreateBuilder<LoggedInput>();
        var query = new InputQuery(Codes.Of(name), span) { Limit = Most + 1 };
        while (true)
        {
            var asked = query;
            var page = desk.Read(r => r.Inputs(asked));
            messages.AddRange(page.Where(i => i.Row.Kind is var kind && (kind == Codes.MessageInput || kind == Codes.WideMessageInput)));
            if (page.Length < query.Limit || messages.Count > Most) return messages.ToImmutable();
            query = query with { After = InputPlace.Of(page[^1]) };
        }
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Auditing;

/// <summary>Addresses of what happened to accounts, and of who read what.</summary>
internal static class AuditRoutes
{
    private const int Usual = 100, Most = 500;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/people/events", EventsAsync).Needs(Right.SetUp).Takes(QueryParameter.Limit(Usual, Most), QueryParameter.After)
            .Produces<AccountEventList>().ProducesProblem(400).WithSummary("What happened to accounts, newest first: sign-ins, failures, roles, links, tokens.");
        api.MapGet("/people/accesses", AccessesAsync).Needs(Right.SetUp).Takes(QueryParameter.Limit(Usual, Most), QueryParameter.After)
            .Produces<AccessList>().ProducesProblem(400).WithSummary("Who read personal data, latest first: one entry for each hour, reader, address and vehicle.");
    }

    private static async Task<IResult> EventsAsync(HttpContext http, IAccountLog log)
    {
        var asked = new Asked(http);
        var (limit, before) = (asked.Number("limit", Usual, 1, Most), asked.Number("after", int.MaxValue, 0, int.MaxValue));
        if (asked.Problem is { } problem) return problem;
        var events = await log.ReadAsync(before, limit, http.RequestAborted);
        return Results.Json(new AccountEventList([.. events.Select(AccountEventDocument.Of)], events.Length == limit ? events[^1].Id : null));
    }

    private static async Task<IResult> AccessesAsync(HttpContext http, IAccessLog log)
    {
        var asked = new Asked(http);
        var (limit, skip) = (asked.Number("limit", Usual, 1, Most), asked.Number("after", 0, 0, int.MaxValue));
        if (asked.Problem is { } problem) return problem;
        var entries = await log.ReadAsync(skip, limit, http.RequestAborted);
        return Results.Json(new AccessList([.. entries.Select(AccessDocument.Of)], entries.Length == limit ? skip + limit : null));
    }
}

/// <summary>What happened to accounts.</summary>
/// <param name="Events">Newest first.</param>
/// <param name="Next">'after' of the next page; <c>null</c> where there is none.</param>
internal sealed record AccountEventList(ImmutableArray<AccountEventDocument> Events, long? Next);

/// <summary>Something that happened to an account.</summary>
/// <param name="Id">Its number; later ones are greater.</param>
/// <param name="At">When.</param>
/// <param name="Who">Who did it; empty where nobody was signed in.</param>
/// <param name="What">What, as a word.</param>
/// <param name="Subject">Whose account, or which token.</param>
/// <param name="From">Address it came from.</param>
/// <param name="Detail">What it was set to.</param>
internal sealed record AccountEventDocument(long Id, Moment At, string Who, string What, string Subject, string From, string Detail)
{
    public static AccountEventDocument Of(AccountEvent of) => new(of.Id, new Moment(of.At), of.Who, of.What, of.Subject, of.From, of.Detail);
}

/// <summary>Who read what.</summary>
/// <param name="Accesses">Latest first.</param>
/// <param name="Next">'after' of the next page; <c>null</c> where there is none.</param>
internal sealed record AccessList(ImmutableArray<AccessDocument> Accesses, int? Next);

/// <summary>That somebody read personal data, in one hour.</summary>
/// <param name="Who">Person or program.</param>
/// <param name="What">Address.</param>
/// <param name="Subject">Vehicle or fleet; empty for all.</param>
/// <param name="FirstAt">First time in that hour.</param>
/// <param name="LastAt">Last time in that hour.</param>
/// <param name="Times">How often.</param>
internal sealed record AccessDocument(string Who, string What, string Subject, Moment FirstAt, Moment LastAt, long Times)
{
    public static AccessDocument Of(AccessEntry of) => new(of.Who, of.What, of.Subject, new Moment(of.FirstAt), new Moment(of.LastAt), of.Times);
}

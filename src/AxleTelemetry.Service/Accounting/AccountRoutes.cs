using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Running;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Accounting;

/// <summary>The address of the running account.</summary>
internal static class AccountRoutes
{
    private const int UsualKilometres = 100_000, Most = 20_000;

    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/account", ReadAsync)
        .Needs(Right.Look).Takes(QueryParameter.Fleet, QueryParameter.Vehicle, QueryParameter.From, QueryParameter.To,
            new("km_per_year", "Distance of a year for the question whether a lift pays, 1000 to 500000; 100000 where not given."))
        .Produces<AccountDocument>().ProducesProblem(400)
        .WithSummary("The running account of at most 20 000 unit-days that began in a span: of each unit and each axle, what was saved by lifting and wasted, with 95 % intervals and the assumptions.");

    private static async Task<IResult> ReadAsync(HttpContext http, Desks desks, CombinationShelf shelf)
    {
        var asked = new Asked(http);
        var (fleet, vehicle) = (asked.Name("fleet"), asked.Vehicle());
        var span = (From: asked.Time("from") ?? new Moment(0), To: asked.Time("to") ?? new Moment(long.MaxValue / 4));
        var kilometres = asked.Number("km_per_year", UsualKilometres, 1_000, 500_000);
        if (span.From > span.To) asked.Refuse<string>("from", span.From.ToString(), "a time not after 'to'");
        if (asked.Problem is { } problem) return problem;
        var reading = new AccountReading(span, fleet, vehicle) { Most = Most };
        var (found, configurations) = (AccountFound.Nothing, new List<FleetConfiguration>());
        foreach (var desk in desks.Of(fleet ?? vehicle?.Fleet))
        {
            var log = await desk.AskAsync(s => Enumerable.Range(1, s.Log.Latest.Number).Select(n => s.Log.Number(n).Configuration).ToArray(), http.RequestAborted);
            configurations.Add(log[^1]);
            found = reading.Read(q => desk.Read(r => r.HistoryAcross(q)), members => CombinationShelf.Make(members, log), found);
        }

        if (found.MoreThanMost) asked.Refuse<string>("from", span.From.ToString(), FormattableString.Invariant($"a span with at most {Most} unit-days, or one vehicle"));
        if (asked.Problem is { } tooMuch) return tooMuch;
        return Results.Json(AccountDocument.Of(found, f => configurations.Select(c => c.Find(f)).FirstOrDefault(c => c is not null)?.Assumptions ?? AssumptionsFile.Shipped, kilometres));
    }
}

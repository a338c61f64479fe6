using System.Threading.Channels;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Service.Events;

/// <summary>The address of what happens, as it happens.</summary>
internal static class EventRoutes
{
    private const int Buffered = 16;

    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/events", ListenAsync)
        .Needs(Right.Look).Takes(QueryParameter.Fleet, new("after", "The id of the last event seen, where the header Last-Event-ID cannot be sent."))
        .Produces<string>(200, "text/event-stream").ProducesProblem(400).ProducesProblem(503)
        .WithSummary("Server-sent events: alert, load, load_begun, episode as they are committed; gap where something may be missing.");

    private static async Task<IResult> ListenAsync(HttpContext http, Desks desks, CombinationShelf shelf, Listeners listeners, TimeProvider clock)
    {
        var asked = new Asked(http);
        var fleet = asked.Name("fleet");
        if (fleet is not null && desks.Find(fleet) is null) asked.Refuse<string>("fleet", fleet, "a fleet of the settings");
        if (asked.Problem is { } problem) return problem;
        using var place = listeners.Enter();
        if (place is null) return Problem.Unavailable("As many listen to events as may. Try again later, or ask from time to time.");
        var last = http.Request.Headers["Last-Event-ID"].ToString() is { Length: > 0 } header ? header : asked.Text("after");
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted, listeners.Stopping);
        var held = WatchAsync(http, clock, stop);
        try
        {
            await SendAsync(http, FeedStart.Of(last, desks, clock.Now(), listeners.KeptDays), (desks.Of(fleet), shelf, fleet), stop);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // The listener has left or may not listen any more, or the service stops.
        }
        finally
        {
            await stop.CancelAsync();
            await held;
        }

        return Results.Empty;
    }

    // What was allowed when it began may be so no more: a stream can be open for months.
    private static async Task WatchAsync(HttpContext http, TimeProvider clock, CancellationTokenSource stop)
    {
        try
        {
            do await Task.Delay(HeldSignIn.Often, clock, stop.Token);
            while (await HeldSignIn.HoldsAsync(http));
            await stop.CancelAsync();
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // It has ended.
        }
        catch (Exception unknown) when (unknown is not OutOfMemoryException)
        {
            // Where it cannot be told whether he still may, he comes again and is asked anew.
            await stop.CancelAsync();
        }
    }

    private static async Task SendAsync(HttpContext http, FeedStart start, (System.Collections.Immutable.ImmutableArray<Sharding.ShardDesk> Desks, CombinationShelf Shelf, string? Fleet) from, CancellationTokenSource stop)
    {
        http.Response.ContentType = "text/event-stream";
        http.Features.Get<Microsoft.AspNetCore.Http.Features.IHttpResponseBodyFeature>()?.DisableBuffering();
        var stream = new EventStream(http.Response.BodyWriter, http.RequestServices.GetRequiredService<TimeProvider>());
        await stream.BeginAsync(start, stop.Token);
        var channel = Channel.CreateBounded<FeedEvent>(new BoundedChannelOptions(Buffered) { SingleReader = true });
        var feeds = from.Desks.Select(d => Task.Run(() => new ShardFeed(d, from.Shelf, from.Fleet).FollowAsync(start.From.Of(d.Name, d.Committed), channel.Writer, stop.Token), CancellationToken.None)).ToArray();
        // A feed that fails ends the stream: the listener comes again and is told from where it stood.
        var ended = Task.WhenAny(feeds).Unwrap().ContinueWith(done => channel.Writer.TryComplete(done.Exception), CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        try
        {
            await stream.RunAsync(start.From, channel.Reader, stop.Token);
        }
        finally
        {
            await stop.CancelAsync();
            await ended;
            await Task.WhenAll(feeds).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }
}

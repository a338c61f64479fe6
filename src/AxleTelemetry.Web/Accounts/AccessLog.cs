using System.Collections.Concurrent;
using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace AxleTelemetry.Web.Accounts;

/// <summary>
/// Who read personal data: a row for each hour, person, address and vehicle. The row is on the disk before the first answer of that hour is given; how
/// often more is counted in memory and written once a minute. What is too old, or more than is kept, goes.
/// </summary>
internal sealed class AccessLog(IDbContextFactory<PeopleContext> contexts, PeopleSettings settings, TimeProvider clock, ILogger<AccessLog> log) : BackgroundService, IAccessLog
{
    private const int MostRows = 1_000_000, MostFailures = 100_000, MostCounted = 50_000, LongestText = 200, FailureDays = 90;
    private const long Hour = 3_600_000, Day = 24 * Hour;
    private static readonly TimeSpan Often = TimeSpan.FromMinutes(1);

    private readonly ConcurrentDictionary<Key, Count> _counts = [];

    public async Task NoteAsync(string who, string what, string subject, CancellationToken cancel = default)
    {
        var at = Now();
        var key = new Key(Cut(who), Cut(what), Cut(subject), at / Hour);
        if (_counts.TryGetValue(key, out var count))
        {
            count.Add(at);
            return;
        }

        await WriteAsync(key, at, 1, cancel);
        if (_counts.Count < MostCounted) _counts.TryAdd(key, new Count());
    }

    public async Task<ImmutableArray<AccessEntry>> ReadAsync(int skip, int limit, CancellationToken cancel)
    {
        await FlushAsync(cancel);
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return [.. await context.Accesses.AsNoTracking().OrderByDescending(a => a.LastAt).ThenBy(a => a.Who).ThenBy(a => a.What).ThenBy(a => a.Subject).Skip(skip).Take(limit).ToListAsync(cancel)];
    }

    /// <summary>Forgets what is older than it is kept.</summary>
    public async Task PruneAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = Now();
        await context.Accesses.Where(a => a.LastAt < now - settings.AccessDays * Day).ExecuteDeleteAsync(cancel);
        await context.Events.Where(e => e.At < now - settings.EventDays * Day).ExecuteDeleteAsync(cancel);
        // Whoever guesses passwords must not be able to push out what else happened.
        var failed = AccountLog.Word(AccountAct.SignInFailed);
        await context.Events.Where(e => e.What == failed && e.At < now - FailureDays * Day).ExecuteDeleteAsync(cancel);
        if (await context.Events.Where(e => e.What == failed).OrderByDescending(e => e.Id).Skip(MostFailures).Select(e => (long?)e.Id).FirstOrDefaultAsync(cancel) is { } last)
            await context.Events.Where(e => e.What == failed && e.Id <= last).ExecuteDeleteAsync(cancel);
        if (await context.Accesses.OrderByDescending(a => a.LastAt).Skip(MostRows).Select(a => (long?)a.LastAt).FirstOrDefaultAsync(cancel) is { } oldest)
            await context.Accesses.Where(a => a.LastAt <= oldest).ExecuteDeleteAsync(cancel);
        await context.Links.Where(l => l.ExpiresAt < now - FailureDays * Day).ExecuteDeleteAsync(cancel);
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        await QuietlyAsync(FlushAsync, CancellationToken.None);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var prunedAt = 0L;
        using var timer = new PeriodicTimer(Often, clock);
        try
        {
            do
            {
                await QuietlyAsync(FlushAsync, stoppingToken);
                if (Now() - prunedAt < Day) continue;
                await QuietlyAsync(PruneAsync, stoppingToken);
                prunedAt = Now();
            }
            while (await timer.WaitForNextTickAsync(stoppingToken));
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service stops.
        }
    }

    private async Task FlushAsync(CancellationToken cancel)
    {
        var hour = Now() / Hour;
        foreach (var (key, count) in _counts)
        {
            var (times, last) = count.Take();
            if (times > 0) await WriteAsync(key, last, times, cancel);
            // One that is added to between these two lines is of an hour that is over: it is written anew.
            if (key.Hour < hour) _counts.TryRemove(key, out _);
        }
    }

    private async Task WriteAsync(Key key, long at, long times, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await AddToAsync(context, key, at, times, cancel)) return;
        context.Accesses.Add(new AccessEntry { Who = key.Who, What = key.What, Subject = key.Subject, Hour = key.Hour, FirstAt = at, LastAt = at, Times = times });
        try
        {
            await context.SaveChangesAsync(cancel);
        }
        catch (DbUpdateException) when (!cancel.IsCancellationRequested)
        {
            // Another request has made the row meanwhile; anything else fails here again.
            if (!await AddToAsync(context, key, at, times, cancel)) throw;
        }
    }

    private static async Task<bool> AddToAsync(PeopleContext context, Key key, long at, long times, CancellationToken cancel) =>
        await context.Accesses.Where(a => a.Who == key.Who && a.What == key.What && a.Subject == key.Subject && a.Hour == key.Hour)
            .ExecuteUpdateAsync(set => set.SetProperty(a => a.Times, a => a.Times + times).SetProperty(a => a.LastAt, at), cancel) > 0;

    private async Task QuietlyAsync(Func<CancellationToken, Task> work, CancellationToken cancel)
    {
        try
        {
            await work(cancel);
        }
        catch (Exception failed) when (failed is System.Data.Common.DbException or DbUpdateException)
        {
            log.NotKept(failed);
        }
    }

    private long Now() => clock.GetUtcNow().ToUnixTimeMilliseconds();

    private static string Cut(string text) => text.Length <= LongestText ? text : text[..LongestText];

    private readonly record struct Key(string Who, string What, string Subject, long Hour);

    private sealed class Count
    {
        private readonly Lock _gate = new();
        private long _times, _last;

        public void Add(long at)
        {
            lock (_gate) (_times, _last) = (_times + 1, at);
        }

        public (long Times, long Last) Take()
        {
            lock (_gate)
            {
                var taken = (_times, _last);
                _times = 0;
                return taken;
            }
        }
    }
}

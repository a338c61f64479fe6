using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.People;

/// <summary>Writes down who was let in and what was changed of what people may do. What they do about alerts is in the journal.</summary>
internal sealed class AccessLog(IDbContextFactory<PeopleStore> stores, TimeProvider clock, IHttpContextAccessor http)
{
    private const int Most = 100_000, MostText = 256;

    public async Task WriteAsync(string who, string what)
    {
        await using var store = await stores.CreateDbContextAsync();
        var from = http.HttpContext?.Connection.RemoteIpAddress?.ToString() ?? "";
        store.Access.Add(new AccessEntry { At = clock.GetUtcNow().ToUnixTimeMilliseconds(), Who = who[..Math.Min(who.Length, MostText)], What = what, From = from });
        await store.SaveChangesAsync();
        // Whoever guesses names must not fill the disk.
        await store.Access.Where(e => e.Id <= store.Access.Max(l => l.Id) - Most).ExecuteDeleteAsync();
    }

    public async Task<AccessEntry[]> LatestAsync(int count)
    {
        await using var store = await stores.CreateDbContextAsync();
        return await store.Access.OrderByDescending(e => e.Id).Take(count).ToArrayAsync();
    }
}

using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Links that set a password, each once and for a time.</summary>
internal sealed class OneTimeLinks(PeopleContext context, TimeProvider clock)
{
    /// <summary>Makes one; an earlier one for the same person is void from then on.</summary>
    /// <param name="personId">Whose; <c>null</c> for the first administrator.</param>
    /// <param name="life">How long it can be used.</param>
    /// <returns>Its code, which is kept nowhere.</returns>
    public async Task<string> MakeAsync(string? personId, TimeSpan life)
    {
        await context.Links.Where(l => l.PersonId == personId && l.UsedAt == null).ExecuteDeleteAsync();
        var code = SecretCode.New();
        context.Links.Add(new OneTimeLink { Hash = SecretCode.Hash(code), PersonId = personId, ExpiresAt = Now() + (long)life.TotalMilliseconds });
        await context.SaveChangesAsync();
        return code;
    }

    /// <summary>The link of a code while it can be used.</summary>
    public async Task<OneTimeLink?> FindAsync(string code)
    {
        var (hash, now) = (SecretCode.Hash(code), Now());
        return await context.Links.AsNoTracking().SingleOrDefaultAsync(l => l.Hash == hash && l.UsedAt == null && l.ExpiresAt > now);
    }

    /// <summary>Uses it up. True for one of all that try at the same time.</summary>
    public async Task<bool> UseAsync(string code)
    {
        var (hash, now) = (SecretCode.Hash(code), Now());
        return await context.Links.Where(l => l.Hash == hash && l.UsedAt == null && l.ExpiresAt > now).ExecuteUpdateAsync(set => set.SetProperty(l => l.UsedAt, now)) == 1;
    }

    private long Now() => clock.GetUtcNow().ToUnixTimeMilliseconds();
}

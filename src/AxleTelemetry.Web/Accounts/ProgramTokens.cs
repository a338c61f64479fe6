using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.Accounts;

/// <summary>Tokens for programs.</summary>
internal sealed class ProgramTokens(PeopleContext context, AccountLog log, TimeProvider clock)
{
    private const long Minute = 60_000;

    public async Task<ImmutableArray<ProgramToken>> ListAsync() => [.. await context.Tokens.AsNoTracking().OrderBy(t => t.RevokedAt != null).ThenBy(t => t.Name).ThenBy(t => t.Id).ToListAsync()];

    /// <summary>Makes one.</summary>
    /// <returns>The token, which is kept nowhere.</returns>
    public async Task<string> MakeAsync(string name, string role, TimeSpan life, string by)
    {
        var (token, now) = (SecretCode.New(), Now());
        context.Tokens.Add(new ProgramToken { Name = name, Hash = SecretCode.Hash(token), Role = role, MadeAt = now, MadeBy = by, ExpiresAt = now + (long)life.TotalMilliseconds });
        await log.NoteAsync(AccountAct.TokenMade, name, FormattableString.Invariant($"{role}, {life.TotalDays:0} days"));
        return token;
    }

    public async Task RevokeAsync(long id)
    {
        if (await context.Tokens.SingleOrDefaultAsync(t => t.Id == id && t.RevokedAt == null) is not { } token) return;
        token.RevokedAt = Now();
        await log.NoteAsync(AccountAct.TokenRevoked, token.Name);
    }

    /// <summary>The token of a text while it holds, and notes that it was used.</summary>
    public async Task<ProgramToken?> TakeAsync(string text)
    {
        var (hash, now) = (SecretCode.Hash(text), Now());
        var token = await context.Tokens.AsNoTracking().SingleOrDefaultAsync(t => t.Hash == hash && t.RevokedAt == null && t.ExpiresAt > now);
        if (token is not null && now - (token.UsedAt ?? 0) > Minute)
            await context.Tokens.Where(t => t.Id == token.Id).ExecuteUpdateAsync(set => set.SetProperty(t => t.UsedAt, now));
        return token;
    }

    private long Now() => clock.GetUtcNow().ToUnixTimeMilliseconds();
}

using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.People;

/// <summary>Tokens of programs, made by an administrator.</summary>
internal sealed class ProgramTokens(IDbContextFactory<PeopleStore> stores, TimeProvider clock)
{
    private const int Bytes = 32;

    /// <summary>Makes one; it is shown once.</summary>
    public async Task<string> MakeAsync(string name, string role, string by)
    {
        var token = Convert.ToBase64String(RandomNumberGenerator.GetBytes(Bytes)).TrimEnd('=').Replace('+', '-').Replace('/', '_');
        await using var store = await stores.CreateDbContextAsync();
        store.Tokens.Add(new ProgramToken { Name = name, Hash = HashOf(token), Role = role, MadeBy = by, MadeAt = clock.GetUtcNow().ToUnixTimeMilliseconds() });
        await store.SaveChangesAsync();
        return token;
    }

    public async Task<ProgramToken?> FindAsync(string token)
    {
        await using var store = await stores.CreateDbContextAsync();
        var hash = HashOf(token);
        return await store.Tokens.AsNoTracking().FirstOrDefaultAsync(t => t.Hash == hash);
    }

    public async Task<ProgramToken[]> AllAsync()
    {
        await using var store = await stores.CreateDbContextAsync();
        return await store.Tokens.AsNoTracking().OrderBy(t => t.Name).ToArrayAsync();
    }

    public async Task RevokeAsync(int id)
    {
        await using var store = await stores.CreateDbContextAsync();
        await store.Tokens.Where(t => t.Id == id).ExecuteDeleteAsync();
    }

    private static string HashOf(string token) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}

using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>The key of the link by which the first administrator comes in: told once at the start while there is nobody, good for one use, kept nowhere.</summary>
public sealed class FirstKey(IServiceScopeFactory scopes)
{
    private const int Bytes = 24;
    private readonly SemaphoreSlim _one = new(1);
    private string? _key;

    /// <summary>Makes people.db where it is not there yet, and a key where there is nobody; <c>null</c> where there are people.</summary>
    public async Task<string?> PrepareAsync()
    {
        await using var scope = scopes.CreateAsyncScope();
        var store = scope.ServiceProvider.GetRequiredService<PeopleStore>();
        await store.Database.EnsureCreatedAsync();
        var roles = scope.ServiceProvider.GetRequiredService<RoleManager<IdentityRole>>();
        foreach (var role in Roles.All)
            if (!await roles.RoleExistsAsync(role)) await roles.CreateAsync(new IdentityRole(role));
        return _key = await store.Users.AnyAsync() ? null : Convert.ToHexString(RandomNumberGenerator.GetBytes(Bytes)).ToLowerInvariant();
    }

    internal bool Opens(string? key) =>
        _key is { } known && key is not null && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(known), Encoding.UTF8.GetBytes(key));

    /// <summary>Makes the first administrator. What is wrong is told; nothing where it is done.</summary>
    internal async Task<IReadOnlyList<string>> UseAsync(string? key, string name, string password, UserManager<IdentityUser> people)
    {
        await _one.WaitAsync();
        try
        {
            if (!Opens(key)) return [Texts.Words.FirstUsed];
            var person = new IdentityUser(name);
            var made = await people.CreateAsync(person, password);
            if (!made.Succeeded) return [.. made.Errors.Select(e => e.Description)];
            await people.AddToRoleAsync(person, Roles.Administrator);
            _key = null;
            return [];
        }
        finally
        {
            _one.Release();
        }
    }
}

using System.Data.Common;
using AxleTelemetry.Web.Accounts;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>While there is no administrator, every start makes a link by which one comes in, once and within a day; earlier ones are void.</summary>
public sealed class FirstStart(IServiceScopeFactory scopes)
{
    private static readonly TimeSpan Life = TimeSpan.FromHours(24);

    /// <summary>Path and query of the link; <c>null</c> where there is an administrator.</summary>
    /// <exception cref="PeopleFileException">The link cannot be kept.</exception>
    public async Task<string?> LinkAsync()
    {
        try
        {
            return await MakeAsync();
        }
        catch (Exception full) when (full is DbUpdateException or DbException)
        {
            throw new PeopleFileException($"The link for the first administrator cannot be kept: {(full.InnerException ?? full).Message}", full);
        }
    }

    private async Task<string?> MakeAsync()
    {
        await using var scope = scopes.CreateAsyncScope();
        if (!await scope.ServiceProvider.GetRequiredService<Door>().IsWithoutAdministratorAsync()) return null;
        return OneTimePage.AddressOf(await scope.ServiceProvider.GetRequiredService<OneTimeLinks>().MakeAsync(null, Life));
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Web.Accounts;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.People;

/// <summary>The fleets that somebody answers for, as an administrator has entered them: whose alerts he gets first, and what his alarm rate is counted of. No right.</summary>
internal sealed class OwnFleets(IDbContextFactory<PeopleContext> contexts)
{
    /// <summary>Most that may be entered for one person.</summary>
    public const int Most = 100;

    /// <summary>Fleets of somebody; empty where he answers for all, and for programs.</summary>
    public async Task<ImmutableArray<string>> OfAsync(string? name)
    {
        if (name is null) return [];
        await using var context = await contexts.CreateDbContextAsync();
        var normal = name.ToUpperInvariant();
        return await context.Users.AsNoTracking().Where(p => p.NormalizedUserName == normal).Select(p => p.Fleets).SingleOrDefaultAsync() is { } fleets ? Read(fleets) : [];
    }

    /// <summary>Names as they are typed: with commas or spaces between them.</summary>
    public static ImmutableArray<string> Read(string text) => [.. text.Split([',', ' ', ';'], StringSplitOptions.RemoveEmptyEntries).Distinct(StringComparer.Ordinal)];
}

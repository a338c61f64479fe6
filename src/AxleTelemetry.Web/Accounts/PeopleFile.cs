using Microsoft.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using AxleTelemetry.Web.People;

namespace AxleTelemetry.Web.Accounts;

/// <summary><c>people.db</c>, beside the journal: readable by the user of the service only.</summary>
internal sealed class PeopleFile(IDbContextFactory<PeopleContext> contexts, PeopleSettings settings)
{
    /// <summary>The version of its tables.</summary>
    public const int Version = 2;

    private const string Name = "people.db";

    public static string PathIn(string directory) => Path.Combine(directory, Name);

    /// <summary>Makes the file when it is missing, and looks whether it is of this version.</summary>
    /// <exception cref="PeopleFileException">It cannot be used.</exception>
    public async Task PrepareAsync(CancellationToken cancel)
    {
        try
        {
            Directory.CreateDirectory(settings.Directory);
            if (!File.Exists(PathIn(settings.Directory))) Private(PathIn(settings.Directory));
            await using var context = await contexts.CreateDbContextAsync(cancel);
            await context.Database.EnsureCreatedAsync(cancel);
            await KeepVersionAsync(context, cancel);
            await SeedAsync(context, cancel);
        }
        catch (Exception unusable) when (unusable is IOException or UnauthorizedAccessException or System.Data.Common.DbException or DbUpdateException)
        {
            throw new PeopleFileException($"{PathIn(settings.Directory)} cannot be used: {unusable.GetBaseException().Message}", unusable);
        }
    }

    private static async Task KeepVersionAsync(PeopleContext context, CancellationToken cancel)
    {
        var found = await context.Database.SqlQuery<int>($"SELECT user_version AS Value FROM pragma_user_version").SingleAsync(cancel);
        if (found == Version) return;
        if (found > Version)
            throw new PeopleFileException(FormattableString.Invariant($"{Name} is of version {found}, and this program knows version {Version}: use the program that wrote it, or a later one."), null);
        await using var whole = await context.Database.BeginTransactionAsync(cancel);
        // 1 had no fleets that somebody answers for. A file of version 0 was made just now, with everything in it.
        if (found == 1) await context.Database.ExecuteSqlRawAsync("ALTER TABLE AspNetUsers ADD COLUMN Fleets TEXT NOT NULL DEFAULT ''", cancel);
        await context.Database.ExecuteSqlRawAsync(FormattableString.Invariant($"PRAGMA user_version = {Version}"), cancel);
        await whole.CommitAsync(cancel);
    }

    private static async Task SeedAsync(PeopleContext context, CancellationToken cancel)
    {
        var there = await context.Roles.Select(r => r.Name).ToListAsync(cancel);
        context.Roles.AddRange(Roles.All.Except(there).Select(r => new IdentityRole(r!) { NormalizedName = r!.ToUpperInvariant() }));
        await context.SaveChangesAsync(cancel);
    }

    private static void Private(string file)
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        new FileStream(file, options).Dispose();
    }
}

/// <summary><c>people.db</c> cannot be used.</summary>
public sealed class PeopleFileException(string why, Exception? cause) : Exception(why, cause);

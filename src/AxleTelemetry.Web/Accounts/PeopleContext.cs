using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.Accounts;

/// <summary>The tables of <c>people.db</c>. Whoever changes one raises <see cref="PeopleFile.Version"/> and says there how an older file is brought along.</summary>
internal sealed class PeopleContext(DbContextOptions<PeopleContext> options) : IdentityDbContext<Person>(options)
{
    public DbSet<OneTimeLink> Links => Set<OneTimeLink>();

    public DbSet<ProgramToken> Tokens => Set<ProgramToken>();

    public DbSet<AccountEvent> Events => Set<AccountEvent>();

    public DbSet<AccessEntry> Accesses => Set<AccessEntry>();

    /// <summary>True where an administrator other than one can come in: by a password, or by a provider.</summary>
    /// <param name="other">Who does not count; <c>null</c> where all do.</param>
    /// <param name="provider">The one by which people may come now: who came by another stands before a locked door.</param>
    public Task<bool> HasAdministratorAsync(string? other, OpenIdProvider? provider)
    {
        var (issuer, before) = (provider?.Key, provider?.KeyWithSlash);
        return (from person in Users
         join given in UserRoles on person.Id equals given.UserId
         join role in Roles on given.RoleId equals role.Id
         where role.Name == People.Roles.Administrator && person.Id != other && (person.LockoutEnd == null || person.LockoutEnd != DateTimeOffset.MaxValue)
             && (person.PasswordHash != null || UserLogins.Any(l => l.UserId == person.Id && (l.LoginProvider == issuer || l.LoginProvider == before)))
         select person).AnyAsync();
    }

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.Entity<Person>().Ignore(p => p.IsLocked).Property(p => p.Fleets).HasDefaultValue("");
        builder.Entity<OneTimeLink>().HasKey(l => l.Hash);
        builder.Entity<ProgramToken>().HasIndex(t => t.Hash).IsUnique();
        builder.Entity<AccountEvent>().HasIndex(e => e.At);
        builder.Entity<AccessEntry>().HasKey(a => new { a.Who, a.What, a.Subject, a.Hour });
        builder.Entity<AccessEntry>().HasIndex(a => a.LastAt);
    }
}

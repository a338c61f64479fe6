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

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.Entity<Person>().Ignore(p => p.IsLocked);
        builder.Entity<OneTimeLink>().HasKey(l => l.Hash);
        builder.Entity<ProgramToken>().HasIndex(t => t.Hash).IsUnique();
        builder.Entity<AccountEvent>().HasIndex(e => e.At);
        builder.Entity<AccessEntry>().HasKey(a => new { a.Who, a.What, a.Subject, a.Hour });
        builder.Entity<AccessEntry>().HasIndex(a => a.LastAt);
    }
}

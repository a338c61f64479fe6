using AxleTelemetry.Domain.Quantities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.People;

/// <summary>People, their roles, tokens of programs, and who was let in: people.db, beside the journals.</summary>
public sealed class PeopleStore(DbContextOptions<PeopleStore> options) : IdentityDbContext<IdentityUser>(options)
{
    internal DbSet<ProgramToken> Tokens => Set<ProgramToken>();

    internal DbSet<AccessEntry> Access => Set<AccessEntry>();

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.Entity<ProgramToken>().HasIndex(t => t.Hash).IsUnique();
        builder.Entity<AccessEntry>().HasIndex(e => e.At);
    }
}

/// <summary>A token that a program signs in with. Only its hash is kept.</summary>
internal sealed class ProgramToken
{
    public int Id { get; set; }

    /// <summary>What it is for; actions are entered under it.</summary>
    public required string Name { get; set; }

    /// <summary>SHA-256 of the token, in hexadecimal.</summary>
    public required string Hash { get; set; }

    public required string Role { get; set; }

    public required string MadeBy { get; set; }

    public required long MadeAt { get; set; }
}

/// <summary>Somebody was let in or not, or what people may do was changed.</summary>
internal sealed class AccessEntry
{
    public int Id { get; set; }

    /// <summary>When, ms since 1970.</summary>
    public required long At { get; set; }

    public required string Who { get; set; }

    public required string What { get; set; }

    /// <summary>Address that it came from.</summary>
    public required string From { get; set; }

    public Moment Moment => new(At);
}

using System.Collections.Immutable;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.Look;
using AxleTelemetry.Web.Texts;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace AxleTelemetry.Web.People;

/// <summary>What an administrator does with accounts. Nobody is deleted: a name that stands in the log must not become another's.</summary>
internal sealed class PeopleDesk(UserManager<Person> people, PeopleContext context, OneTimeLinks links, AccountLog log, PeopleSettings settings)
{
    private static readonly TimeSpan LinkLife = TimeSpan.FromDays(7);

    public async Task<ImmutableArray<PersonLine>> ListAsync()
    {
        var roles = await context.UserRoles.Join(context.Roles, u => u.RoleId, r => r.Id, (u, r) => new { u.UserId, r.Name }).ToListAsync();
        var byPerson = roles.ToLookup(r => r.UserId, r => r.Name!);
        var elsewhere = await context.UserLogins.Select(l => new { l.UserId, l.ProviderDisplayName }).ToDictionaryAsync(l => l.UserId, l => l.ProviderDisplayName ?? "");
        return [.. (await context.Users.AsNoTracking().OrderBy(p => p.NormalizedUserName).ToListAsync()).Select(p => new PersonLine(p, [.. Roles.All.Where(byPerson[p.Id].Contains)], elsewhere.GetValueOrDefault(p.Id)))];
    }

    /// <summary>Adds somebody.</summary>
    /// <returns>The code of the link that sets the password, or what is wrong.</returns>
    public async Task<Done> AddAsync(string name, IReadOnlyCollection<string> roles)
    {
        if (!PeopleTold.IsName(name)) return new Done.Refused([PeopleWords.NameRule]);
        if (roles.Count == 0) return new Done.Refused([PeopleWords.NeedsRole]);
        await using var whole = await context.Database.BeginTransactionAsync();
        var person = new Person { UserName = name };
        var result = await people.CreateAsync(person);
        if (result.Succeeded) result = await people.AddToRolesAsync(person, roles);
        if (!result.Succeeded) return Refused(result);
        await log.NoteAsync(AccountAct.PersonAdded, name, string.Join(", ", roles));
        var code = await LinkAsync(person);
        await whole.CommitAsync();
        return new Done.Link(name, code);
    }

    public async Task<Done> SetRolesAsync(string id, IReadOnlyCollection<string> roles)
    {
        if (roles.Count == 0) return new Done.Refused([PeopleWords.NeedsRole]);
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await people.FindByIdAsync(id) is not { } person) return Unknown;
        if (!roles.Contains(Roles.Administrator) && await IsLastAsync(person)) return new Done.Refused([PeopleWords.LastAdministrator]);
        var before = await people.GetRolesAsync(person);
        await people.RemoveFromRolesAsync(person, before.Except(roles));
        await people.AddToRolesAsync(person, roles.Except(before));
        await people.UpdateSecurityStampAsync(person);
        await log.NoteAsync(AccountAct.RolesSet, person.UserName!, string.Join(", ", roles));
        await whole.CommitAsync();
        return new Done.Plain();
    }

    /// <summary>Sets the fleets that somebody answers for.</summary>
    /// <param name="id">Who.</param>
    /// <param name="fleets">Their names; none for all.</param>
    /// <param name="known">The fleets there are.</param>
    public async Task<Done> SetFleetsAsync(string id, ImmutableArray<string> fleets, ImmutableArray<string> known)
    {
        if (fleets.Except(known).ToArray() is { Length: > 0 } unknown) return new Done.Refused([Told.With(PeopleWords.FleetsUnknown, string.Join(", ", unknown), string.Join(", ", known))]);
        if (fleets.Length > OwnFleets.Most) return new Done.Refused([Told.With(PeopleWords.FleetsTooMany, OwnFleets.Most)]);
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await people.FindByIdAsync(id) is not { } person) return Unknown;
        person.Fleets = string.Join(",", fleets);
        if (await people.UpdateAsync(person) is { Succeeded: false } refused) return Refused(refused);
        await log.NoteAsync(AccountAct.FleetsSet, person.UserName!, fleets.IsEmpty ? "" : string.Join(", ", fleets));
        await whole.CommitAsync();
        return new Done.Plain();
    }

    public async Task<Done> LockAsync(string id)
    {
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await people.FindByIdAsync(id) is not { } person) return Unknown;
        if (await IsLastAsync(person)) return new Done.Refused([PeopleWords.LastAdministrator]);
        await people.SetLockoutEndDateAsync(person, DateTimeOffset.MaxValue);
        await people.UpdateSecurityStampAsync(person);
        await log.NoteAsync(AccountAct.Locked, person.UserName!);
        await whole.CommitAsync();
        return new Done.Plain();
    }

    public async Task<Done> UnlockAsync(string id)
    {
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await people.FindByIdAsync(id) is not { } person) return Unknown;
        await people.SetLockoutEndDateAsync(person, null);
        await people.ResetAccessFailedCountAsync(person);
        await log.NoteAsync(AccountAct.Unlocked, person.UserName!);
        await whole.CommitAsync();
        return new Done.Plain();
    }

    /// <summary>A link by which somebody sets a new password. Until it is used the old one holds.</summary>
    public async Task<Done> LinkAsync(string id)
    {
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await people.FindByIdAsync(id) is not { IsLocked: false } person) return Unknown;
        // With a password here he would go on with the roles of his last day there.
        if (settings.OpenId is { } provider && (await people.GetLoginsAsync(person)).Any(l => l.LoginProvider == provider.Key || l.LoginProvider == provider.KeyWithSlash)) return new Done.Refused([Told.With(PeopleWords.ElsewhereNoLink, provider.Name)]);
        var code = await LinkAsync(person);
        await whole.CommitAsync();
        return new Done.Link(person.UserName!, code);
    }

    private static Done.Refused Unknown => new([PeopleWords.NoSuchPerson]);

    private static Done.Refused Refused(IdentityResult result) => new([.. result.Errors.Select(e => e.Description)]);

    private async Task<string> LinkAsync(Person person)
    {
        await log.NoteAsync(AccountAct.LinkMade, person.UserName!);
        return await links.MakeAsync(person.Id, LinkLife);
    }

    private async Task<bool> IsLastAsync(Person person)
    {
        return await people.IsInRoleAsync(person, Roles.Administrator) && !await context.HasAdministratorAsync(person.Id, settings.OpenId);
    }
}

/// <summary>Somebody in the list of people.</summary>
/// <param name="Person">Who.</param>
/// <param name="Roles">What he may.</param>
/// <param name="Elsewhere">By whose sign-in he comes, which decides his roles each time; <c>null</c> for who has a password here.</param>
internal sealed record PersonLine(Person Person, ImmutableArray<string> Roles, string? Elsewhere);

/// <summary>What came of an administrator's act.</summary>
internal abstract record Done
{
    private Done() { }

    public sealed record Plain : Done;

    /// <summary>With a link that is shown once.</summary>
    public sealed record Link(string Name, string Code) : Done;

    /// <summary>With a token that is shown once.</summary>
    public sealed record Token(string Name, string Text) : Done;

    public sealed record Refused(ImmutableArray<string> Why) : Done;
}

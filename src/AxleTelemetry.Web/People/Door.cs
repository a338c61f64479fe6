using System.Collections.Immutable;
using System.Security.Claims;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.Texts;
using Microsoft.AspNetCore.Identity;

namespace AxleTelemetry.Web.People;

/// <summary>How people come in: by name and password, by a link that sets a password once. Everything is noted, what fails as well.</summary>
internal sealed class Door(UserManager<Person> people, SignInManager<Person> signIn, PeopleContext context, OneTimeLinks links, AccountLog log, PeopleSettings settings, TimeProvider clock)
{
    /// <summary>Least length of a password; no other rule: rules of composition make worse passwords.</summary>
    public const int LeastPassword = 12;

    /// <summary>Most characters that are looked at.</summary>
    public const int MostPassword = 200;

    // Whoever guesses names must not tell by the time it takes which exist.
    private static readonly string Nobody = new PasswordHasher<Person>().HashPassword(new Person(), SecretCode.New());

    /// <summary>Signs somebody in. False where not, for whatever reason: it is not told which.</summary>
    public async Task<bool> EnterAsync(string name, string password)
    {
        if (name.Length == 0 || password.Length is 0 or > MostPassword) return false;
        if (await people.FindByNameAsync(name) is not { } person)
        {
            people.PasswordHasher.VerifyHashedPassword(new Person(), Nobody, password);
            // What was typed is not kept: it may be a password in the wrong field.
            await log.NoteAsync(AccountAct.SignInFailed, "", who: "");
            return false;
        }

        var wasOut = await people.IsLockedOutAsync(person);
        var result = await signIn.PasswordSignInAsync(person, password, isPersistent: false, lockoutOnFailure: true);
        await log.NoteAsync(result.Succeeded ? AccountAct.SignedIn : AccountAct.SignInFailed, person.UserName!, who: result.Succeeded ? person.UserName : "");
        if (result.IsLockedOut && !wasOut) await log.NoteAsync(AccountAct.LockedOut, person.UserName!, who: "");
        return result.Succeeded;
    }

    /// <summary>Signs in whoever a provider of OpenID Connect speaks for: known by its number for him, with the roles that it gives him now.</summary>
    /// <returns>Why not; <c>null</c> where he is in.</returns>
    public async Task<ElsewhereRefusal?> EnterFromElsewhereAsync(ClaimsPrincipal who)
    {
        if (settings.OpenId is not { } provider || who.FindFirstValue("sub") is not { Length: > 0 } number) return await RefuseAsync(ElsewhereRefusal.Failed, "");
        var said = who.FindAll(provider.RolesClaim).Select(c => c.Value).ToHashSet(StringComparer.Ordinal);
        string[] roles = [.. Roles.All.Where(r => provider.Roles.TryGetValue(r, out var values) && values.Any(said.Contains))];
        await using var whole = await context.Database.BeginTransactionAsync();
        var person = await people.FindByLoginAsync(provider.Key, number) ?? await people.FindByLoginAsync(provider.KeyWithSlash, number);
        if (roles.Length == 0) return await RefuseAsync(ElsewhereRefusal.NoRole, person?.UserName ?? "");
        if (person is { IsLocked: true }) return await RefuseAsync(ElsewhereRefusal.Locked, person.UserName!);
        if (person is null)
        {
            var name = who.FindFirstValue("preferred_username") ?? who.FindFirstValue("email") ?? "";
            if (!PeopleTold.IsName(name)) return await RefuseAsync(ElsewhereRefusal.NoName, "");
            // A name is what actions are entered under: nobody gets another's by choosing it elsewhere.
            if (await people.FindByNameAsync(name) is not null) return await RefuseAsync(ElsewhereRefusal.NameTaken, name);
            person = new Person { UserName = name };
            Must(await people.CreateAsync(person));
            Must(await people.AddLoginAsync(person, new UserLoginInfo(provider.Key, number, provider.Name)));
            await log.NoteAsync(AccountAct.PersonAdded, name, provider.Name, who: "");
        }

        await TakeRolesAsync(person, roles);
        await log.NoteAsync(AccountAct.SignedIn, person.UserName!, provider.Name, who: person.UserName);
        await whole.CommitAsync();
        await signIn.SignInWithClaimsAsync(person, isPersistent: false, [ElsewhereTerm.From(clock.GetUtcNow())]);
        return null;
    }

    /// <summary>What a link can still do; <c>null</c> where it can do nothing any more.</summary>
    public async Task<LinkUse?> LookAsync(string code)
    {
        if (code.Length == 0 || await links.FindAsync(code) is not { } link) return null;
        if (link.PersonId is null) return await IsWithoutAdministratorAsync() ? new LinkUse(null) : null;
        return await people.FindByIdAsync(link.PersonId) is { IsLocked: false } person ? new LinkUse(person.UserName) : null;
    }

    /// <summary>Uses a link, and signs in whoever uses it.</summary>
    /// <param name="code">Its code.</param>
    /// <param name="name">Name of the first administrator; of others it is known.</param>
    /// <param name="password">The new password.</param>
    /// <returns>What is wrong; empty where it is done.</returns>
    public async Task<ImmutableArray<string>> SetPasswordAsync(string code, string name, string password)
    {
        if (password.Length > MostPassword) return [PeopleWords.PasswordTooLong];
        if (!PeopleTold.IsName(name)) return [PeopleWords.NameRule];
        await using var whole = await context.Database.BeginTransactionAsync();
        if (await LookAsync(code) is not { } use || !await links.UseAsync(code))
        {
            await whole.RollbackAsync();
            await log.NoteAsync(AccountAct.LinkRefused, "", who: "");
            return [PeopleWords.LinkVoid];
        }

        var (person, result) = use.Name is { } known ? await ResetAsync(known, password) : await FirstAsync(name, password);
        // Nothing is kept of a try that failed: the link holds for another.
        if (!result.Succeeded) return [.. result.Errors.Select(e => e.Description)];
        await log.NoteAsync(AccountAct.PasswordSetByLink, person.UserName!, who: person.UserName);
        await log.NoteAsync(AccountAct.SignedIn, person.UserName!, who: person.UserName);
        await whole.CommitAsync();
        await signIn.SignInAsync(person, isPersistent: false);
        return [];
    }

    /// <summary>Changes the password of whoever is signed in.</summary>
    /// <returns>What is wrong; empty where it is done.</returns>
    public async Task<ImmutableArray<string>> ChangePasswordAsync(ClaimsPrincipal who, string old, string password)
    {
        if (password.Length > MostPassword || old.Length > MostPassword) return [PeopleWords.PasswordTooLong];
        if (await people.GetUserAsync(who) is not { } person) return [PeopleWords.NoPassword];
        var result = await people.ChangePasswordAsync(person, old, password);
        if (!result.Succeeded) return [.. result.Errors.Select(e => e.Description)];
        await log.NoteAsync(AccountAct.PasswordChanged, person.UserName!);
        await signIn.RefreshSignInAsync(person);
        return [];
    }

    public async Task LeaveAsync(string? name)
    {
        if (name is not null) await log.NoteAsync(AccountAct.SignedOut, name);
        await signIn.SignOutAsync();
    }

    /// <summary>True while nobody can set up anything.</summary>
    public async Task<bool> IsWithoutAdministratorAsync() =>
        !await context.HasAdministratorAsync(null, settings.OpenId);

    private async Task TakeRolesAsync(Person person, string[] roles)
    {
        var before = await people.GetRolesAsync(person);
        if (before.Order().SequenceEqual(roles.Order())) return;
        Must(await people.RemoveFromRolesAsync(person, before.Except(roles)));
        Must(await people.AddToRolesAsync(person, roles.Except(before)));
        // Where he sits already with other roles he is signed out.
        Must(await people.UpdateSecurityStampAsync(person));
        await log.NoteAsync(AccountAct.RolesSet, person.UserName!, string.Join(", ", roles), who: "");
    }

    private async Task<ElsewhereRefusal?> RefuseAsync(ElsewhereRefusal why, string name)
    {
        await log.NoteAsync(AccountAct.SignInFailed, name, who: "");
        if (context.Database.CurrentTransaction is { } whole) await whole.CommitAsync();
        return why;
    }

    private static void Must(IdentityResult result)
    {
        if (!result.Succeeded) throw new InvalidOperationException(string.Join(' ', result.Errors.Select(e => e.Description)));
    }

    private async Task<(Person Person, IdentityResult Result)> FirstAsync(string name, string password)
    {
        var person = new Person { UserName = name };
        var result = await people.CreateAsync(person, password);
        if (result.Succeeded) result = await people.AddToRoleAsync(person, Roles.Administrator);
        return (person, result);
    }

    private async Task<(Person Person, IdentityResult Result)> ResetAsync(string name, string password)
    {
        var person = (await people.FindByNameAsync(name))!;
        foreach (var validator in people.PasswordValidators)
            if (await validator.ValidateAsync(people, person, password) is { Succeeded: false } poor)
                return (person, poor);
        if (person.PasswordHash is not null) await people.RemovePasswordAsync(person);
        var result = await people.AddPasswordAsync(person, password);
        // Whoever has the link is not to be kept out by the failures of others.
        await people.SetLockoutEndDateAsync(person, null);
        await people.ResetAccessFailedCountAsync(person);
        return (person, result);
    }
}

/// <summary>What a link is for.</summary>
/// <param name="Name">Whose password it sets; <c>null</c> for the first administrator, who chooses a name.</param>
internal sealed record LinkUse(string? Name);

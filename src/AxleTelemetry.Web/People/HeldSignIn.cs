using System.Security.Claims;
using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;

namespace AxleTelemetry.Web.People;

/// <summary>For what stays open for long: whether whoever began it may still have it.</summary>
public static class HeldSignIn
{
    /// <summary>How long a change may take to be noticed.</summary>
    public static TimeSpan Often => PersonWatch.Often;

    /// <summary>False once a token is revoked or has run out, or an account is locked or has other roles, or it is time to ask the provider again that somebody came by.</summary>
    public static async Task<bool> HoldsAsync(HttpContext http)
    {
        await using var scope = http.RequestServices.GetRequiredService<IServiceScopeFactory>().CreateAsyncScope();
        return http.User.Identity?.AuthenticationType switch
        {
            MachineSignIn.Way => true,
            TokenSignIn.Way => await TokenSignIn.FindAsync(http.Request, scope.ServiceProvider) is { } found && found.Roles.All(http.User.IsInRole),
            _ => await HoldsAsync(http.User, scope.ServiceProvider),
        };
    }

    /// <summary>The same for a person of <c>people.db</c>.</summary>
    internal static async Task<bool> HoldsAsync(ClaimsPrincipal who, IServiceProvider services)
    {
        var people = services.GetRequiredService<UserManager<Person>>();
        if (!ElsewhereTerm.Holds(who, services.GetRequiredService<TimeProvider>().GetUtcNow())) return false;
        var stamp = services.GetRequiredService<IOptions<IdentityOptions>>().Value.ClaimsIdentity.SecurityStampClaimType;
        return await people.GetUserAsync(who) is { IsLocked: false } person && await people.GetSecurityStampAsync(person) == who.FindFirstValue(stamp);
    }
}

using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>
/// How long it holds what a provider has said of somebody. A cookie is drawn out while it is used: without an end, who was put out there or has
/// other roles there would stay in here for as long as he keeps looking.
/// </summary>
internal static class ElsewhereTerm
{
    private const string Until = "elsewhere_until";

    /// <summary>Then the provider is asked again.</summary>
    public static TimeSpan Length { get; } = TimeSpan.FromHours(12);

    /// <summary>Goes with whoever comes in now.</summary>
    public static Claim From(DateTimeOffset now) => new(Until, (now + Length).ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture));

    /// <summary>False once it has run out; of who has a password here it never does.</summary>
    public static bool Holds(ClaimsPrincipal who, DateTimeOffset now) =>
        who.FindFirstValue(Until) is not { } until || long.Parse(until, CultureInfo.InvariantCulture) > now.ToUnixTimeMilliseconds();

    /// <summary>Whoever is read anew from <c>people.db</c> keeps his end.</summary>
    public static Task KeepAsync(SecurityStampRefreshingPrincipalContext context)
    {
        if (context.CurrentPrincipal?.FindFirst(Until) is { } until) (context.NewPrincipal?.Identity as ClaimsIdentity)?.AddClaim(until.Clone());
        return Task.CompletedTask;
    }

    /// <summary>A cookie that somebody sends.</summary>
    public static async Task ValidateAsync(CookieValidatePrincipalContext context)
    {
        if (context.Principal is { } who && !Holds(who, context.HttpContext.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow()))
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
            return;
        }

        await SecurityStampValidator.ValidatePrincipalAsync(context);
    }
}

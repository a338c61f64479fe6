using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace AxleTelemetry.Web.People;

/// <summary>Looks once a minute whether who has a page open is still who he was: a role that was taken must not last as long as the page.</summary>
internal sealed class CircuitPerson(ILoggerFactory log, IServiceScopeFactory scopes, IOptions<IdentityOptions> options) : RevalidatingServerAuthenticationStateProvider(log)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromMinutes(1);

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState state, CancellationToken cancellationToken)
    {
        await using var scope = scopes.CreateAsyncScope();
        var people = scope.ServiceProvider.GetRequiredService<UserManager<IdentityUser>>();
        return await people.GetUserAsync(state.User) is { } person
            && state.User.FindFirstValue(options.Value.ClaimsIdentity.SecurityStampClaimType) == await people.GetSecurityStampAsync(person);
    }
}

using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace AxleTelemetry.Web.People;

/// <summary>Looks now and then whether whoever has a page open may still have it: locked, with other roles or another password he is signed out there too.</summary>
internal sealed class PersonWatch(ILoggerFactory log, IServiceScopeFactory scopes) : RevalidatingServerAuthenticationStateProvider(log)
{
    /// <summary>How long a change of an account may take to be noticed.</summary>
    public static TimeSpan Often { get; } = TimeSpan.FromSeconds(20);

    protected override TimeSpan RevalidationInterval => Often;

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        var who = authenticationState.User;
        // Whoever is not of people.db has no stamp that could change.
        if (who.Identity?.AuthenticationType is MachineSignIn.Way or TokenSignIn.Way) return true;
        await using var scope = scopes.CreateAsyncScope();
        return await HeldSignIn.HoldsAsync(who, scope.ServiceProvider);
    }
}

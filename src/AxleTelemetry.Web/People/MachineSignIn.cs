using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace AxleTelemetry.Web.People;

/// <summary>Signs in whoever sits at this machine, with every role: for a demonstration, which is served on a loopback address only.</summary>
public sealed class MachineSignIn(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory log, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, log, encoder)
{
    /// <summary>Its name among the ways to sign in.</summary>
    public const string Way = "machine";

    /// <summary>The name that actions are entered under.</summary>
    public const string Person = "demonstration";

    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var claims = Roles.All.Select(r => new Claim(ClaimTypes.Role, r)).Prepend(new Claim(ClaimTypes.Name, Person));
        return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, Way)), Way)));
    }
}

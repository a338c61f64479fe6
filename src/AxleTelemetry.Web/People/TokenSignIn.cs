using System.Collections.Immutable;
using System.Security.Claims;
using System.Text.Encodings.Web;
using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace AxleTelemetry.Web.People;

/// <summary>Signs in a program by the token that it sends with every request.</summary>
internal sealed class TokenSignIn(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory log, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, log, encoder)
{
    /// <summary>Its name among the ways to sign in.</summary>
    public const string Way = "token";

    private const string Begin = "Bearer ";
    private const int Longest = 4_096;

    /// <summary>True where a request sends a token.</summary>
    public static bool Sends(HttpRequest request) => request.Headers.Authorization.ToString().StartsWith(Begin, StringComparison.OrdinalIgnoreCase);

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var found = await FindAsync(Request, Context.RequestServices);
        return found is { } token ? Taken(token.Name, token.Roles) : AuthenticateResult.Fail("It does not hold.");
    }

    /// <summary>Whose token a request sends, and what he may; <c>null</c> where it does not hold.</summary>
    internal static async Task<(string Name, ImmutableArray<string> Roles)?> FindAsync(HttpRequest request, IServiceProvider services)
    {
        var token = request.Headers.Authorization.ToString()[Begin.Length..].Trim();
        if (token.Length is 0 or > Longest) return null;
        if (services.GetRequiredService<PeopleSettings>().Tokens.FirstOrDefault(t => t.Matches(token)) is { } known) return (known.Name, known.Roles);
        return await services.GetRequiredService<ProgramTokens>().TakeAsync(token) is { } kept ? (kept.Name, [kept.Role]) : null;
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties) => Refusals.NotSignedInAsync(Context);

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => Refusals.NotAllowedAsync(Context);

    // The name of a person holds no space: a program is never taken for one.
    private static AuthenticateResult Taken(string name, IEnumerable<string> roles)
    {
        var claims = roles.Select(r => new Claim(ClaimTypes.Role, r)).Prepend(new Claim(ClaimTypes.Name, $"{name} (program)"));
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, Way)), Way));
    }
}

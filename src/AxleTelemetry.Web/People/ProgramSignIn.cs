using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace AxleTelemetry.Web.People;

/// <summary>Programs sign in with <c>Authorization: Bearer TOKEN</c>: the token of the settings, which may do everything, or one that an administrator made.</summary>
internal sealed class ProgramSignIn(IOptionsMonitor<ProgramSignInOptions> options, ILoggerFactory log, UrlEncoder encoder)
    : AuthenticationHandler<ProgramSignInOptions>(options, log, encoder)
{
    /// <summary>Its name among the ways to sign in.</summary>
    public const string Way = "program";

    private const string Scheme_ = "Bearer ";

    /// <summary>True where a request comes from a program.</summary>
    public static bool IsMeant(string header) => header.StartsWith(Scheme_, StringComparison.OrdinalIgnoreCase);

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (!IsMeant(header)) return AuthenticateResult.NoResult();
        if (Options.IsOfSettings(header)) return Ticket("program", Roles.All);
        if (Context.RequestServices.GetService<ProgramTokens>() is { } tokens && await tokens.FindAsync(header[Scheme_.Length..].Trim()) is { } token) return Ticket(token.Name, [token.Role]);
        return AuthenticateResult.Fail("No such token.");
    }

    private static AuthenticateResult Ticket(string name, IEnumerable<string> roles)
    {
        var claims = roles.Select(r => new Claim(ClaimTypes.Role, r)).Prepend(new Claim(ClaimTypes.Name, name));
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, Way)), Way));
    }
}

/// <summary>What is known of the token of the settings.</summary>
internal sealed class ProgramSignInOptions : AuthenticationSchemeOptions
{
    /// <summary>True for the header that carries it.</summary>
    public Func<string, bool> IsOfSettings { get; set; } = _ => false;
}

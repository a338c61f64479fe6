using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;

namespace AxleTelemetry.Web.People;

/// <summary>
/// People who come by a provider of OpenID Connect (code flow with PKCE): to the provider by a link, back by its redirect, in by what it says of them.
/// </summary>
internal static partial class OpenIdSignIn
{
    /// <summary>Its name among the ways to sign in.</summary>
    public const string Way = "open-id";

    /// <summary>Where the link on the page for signing in leads.</summary>
    public const string Address = "/sign-in/elsewhere";

    /// <summary>The address that the provider must know.</summary>
    public const string ReturnAddress = "/sign-in/open-id";

    private const string Entered = "/sign-in/entered";

    public static void Add(AuthenticationBuilder ways, OpenIdProvider provider) => ways.AddOpenIdConnect(Way, o =>
    {
        (o.Authority, o.ClientId, o.ClientSecret) = (provider.Authority.ToString().TrimEnd('/'), provider.ClientId, provider.Secret());
        (o.ResponseType, o.ResponseMode, o.UsePkce) = (OpenIdConnectResponseType.Code, OpenIdConnectResponseMode.Query, true);
        (o.SignInScheme, o.CallbackPath, o.MapInboundClaims, o.SaveTokens) = (IdentityConstants.ExternalScheme, ReturnAddress, false, false);
        o.RequireHttpsMetadata = provider.Authority.Scheme == Uri.UriSchemeHttps;
        o.Scope.Add("email");
        // It comes back by a link, so these need not be sent along with what other pages post.
        (o.CorrelationCookie.SameSite, o.CorrelationCookie.SecurePolicy) = (SameSiteMode.Lax, CookieSecurePolicy.SameAsRequest);
        (o.NonceCookie.SameSite, o.NonceCookie.SecurePolicy) = (SameSiteMode.Lax, CookieSecurePolicy.SameAsRequest);
        o.Events.OnRemoteFailure = FailAsync;
    });

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet(Address, GoAsync).IsOpen().ExcludeFromDescription();
        app.MapGet(Entered, EnterAsync).IsOpen().ExcludeFromDescription();
    }

    private static async Task GoAsync(string? back, HttpContext http, ILoggerFactory log)
    {
        try
        {
            await http.ChallengeAsync(Way, new AuthenticationProperties { RedirectUri = QueryString.Create(SignInPage.BackField, FormText.Back(back)) is var query ? Entered + query : Entered });
        }
        catch (Exception away) when (away is InvalidOperationException or HttpRequestException or IOException)
        {
            Away(log.CreateLogger(typeof(OpenIdSignIn)), away);
            http.Response.Redirect(SignInPage.WithWhy(ElsewhereRefusal.Away));
        }
    }

    private static async Task<IResult> EnterAsync(string? back, HttpContext http, Door door)
    {
        var said = await http.AuthenticateAsync(IdentityConstants.ExternalScheme);
        if (said.Principal is not { } who) return Results.Redirect(SignInPage.WithWhy(ElsewhereRefusal.Failed));
        // What it said is used once.
        await http.SignOutAsync(IdentityConstants.ExternalScheme);
        return await door.EnterFromElsewhereAsync(who) is { } refusal ? Results.Redirect(SignInPage.WithWhy(refusal)) : Results.Redirect(FormText.Back(back));
    }

    private static async Task FailAsync(RemoteFailureContext context)
    {
        Failed(context.HttpContext.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger(typeof(OpenIdSignIn)), context.Failure);
        await context.HttpContext.RequestServices.GetRequiredService<AccountLog>().NoteAsync(AccountAct.SignInFailed, "", who: "");
        context.HandleResponse();
        context.Response.Redirect(SignInPage.WithWhy(ElsewhereRefusal.Failed));
    }

    [LoggerMessage(7101, LogLevel.Warning, "The provider of OpenID Connect cannot be reached, so nobody comes in by it.")]
    private static partial void Away(ILogger log, Exception why);

    [LoggerMessage(7102, LogLevel.Warning, "Somebody came back from the provider of OpenID Connect and was not taken.")]
    private static partial void Failed(ILogger log, Exception? why);
}

/// <summary>Why somebody who comes by a provider does not come in.</summary>
internal enum ElsewhereRefusal
{
    /// <summary>The provider cannot be reached.</summary>
    Away,

    /// <summary>What came back does not hold, or was broken off.</summary>
    Failed,

    /// <summary>The provider says nothing that gives a role here.</summary>
    NoRole,

    /// <summary>It says no name that may be one here.</summary>
    NoName,

    /// <summary>Somebody else has that name here.</summary>
    NameTaken,

    /// <summary>An administrator here has locked the account.</summary>
    Locked,
}

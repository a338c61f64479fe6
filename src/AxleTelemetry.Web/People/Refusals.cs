using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Http;

namespace AxleTelemetry.Web.People;

/// <summary>What whoever may not is answered: a person is led to a page, a program gets a problem as RFC 9457 has it.</summary>
internal static class Refusals
{
    public static Task ToSignIn(RedirectContext<CookieAuthenticationOptions> context) => IsPerson(context.Request) ? Redirect(context) : NotSignedInAsync(context.HttpContext);

    public static Task ToNotAllowed(RedirectContext<CookieAuthenticationOptions> context) => IsPerson(context.Request) ? Redirect(context) : NotAllowedAsync(context.HttpContext);

    public static Task NotSignedInAsync(HttpContext http)
    {
        http.Response.Headers.WWWAuthenticate = "Bearer";
        return Results.Problem(title: "The request is not taken.", detail: "Sign in, or send the header 'Authorization: Bearer TOKEN' with a token that holds.", statusCode: StatusCodes.Status401Unauthorized).ExecuteAsync(http);
    }

    public static Task NotAllowedAsync(HttpContext http) =>
        Results.Problem(title: "The request is not taken.", detail: "No role of yours may do this. An administrator gives roles.", statusCode: StatusCodes.Status403Forbidden).ExecuteAsync(http);

    private static Task Redirect(RedirectContext<CookieAuthenticationOptions> context)
    {
        context.Response.Redirect(context.RedirectUri);
        return Task.CompletedTask;
    }

    private static bool IsPerson(HttpRequest request) =>
        HttpMethods.IsGet(request.Method) && !ProgramAddresses.Has(request.Path) && request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase);
}

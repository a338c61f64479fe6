using AxleTelemetry.Web.Frame;
using AxleTelemetry.Web.People;
using AxleTelemetry.Web.Register;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web;

/// <summary>The pages, put into a host.</summary>
public static class WebPages
{
    /// <summary>What the pages need. The host adds what they look at: see <see cref="Sight"/>.</summary>
    public static IServiceCollection AddWebPages(this IServiceCollection services, FrameSettings settings)
    {
        services.AddSingleton(settings);
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddCascadingAuthenticationState();
        return services;
    }

    /// <summary>Scripts and styles, then the pages.</summary>
    /// <param name="app">The host.</param>
    /// <param name="assets">The list of scripts and styles that the build has made for the program.</param>
    public static void MapWebPages(this IEndpointRouteBuilder app, string assets)
    {
        app.MapStaticAssets(assets).AllowAnonymous();
        app.MapGet("/", () => Results.Redirect("/now")).ExcludeFromDescription();
        app.MapGet("/register.csv", RegisterRoute.CsvAsync).ExcludeFromDescription();
        app.MapPost("/sign-out", SignOutAsync).ExcludeFromDescription();
        // Nothing may frame a page: the host says so for all answers.
        app.MapRazorComponents<Document>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null).WithStaticAssets(assets);
    }

    private static async Task<IResult> SignOutAsync(HttpContext http, IAntiforgery forgery)
    {
        if (!await forgery.IsRequestValidAsync(http)) return Results.BadRequest();
        if (http.RequestServices.GetService<AccessLog>() is { } log)
        {
            await log.WriteAsync(http.User.Identity?.Name ?? "", "signed out");
            await http.SignOutAsync(IdentityConstants.ApplicationScheme);
        }

        return Results.Redirect("/sign-in");
    }
}

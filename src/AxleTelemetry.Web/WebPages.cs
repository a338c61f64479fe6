using AxleTelemetry.Web.Frame;
using AxleTelemetry.Web.People;
using AxleTelemetry.Web.Register;
using AxleTelemetry.Web.Vehicles;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web;

/// <summary>The pages, put into a host.</summary>
public static class WebPages
{
    // The only files that somebody gets who is not signed in: those that the door is drawn with.
    private static readonly string[] StylesOfDoor = ["tokens", "frame", "people"];

    /// <summary>What the pages need. The host adds what they look at: see <see cref="Sight"/>.</summary>
    public static IServiceCollection AddWebPages(this IServiceCollection services, FrameSettings settings)
    {
        services.AddSingleton(settings);
        services.AddRazorComponents().AddInteractiveServerComponents();
        return services;
    }

    /// <summary>Scripts and styles, then the pages.</summary>
    /// <param name="app">The host.</param>
    /// <param name="assets">The list of scripts and styles that the build has made for the program.</param>
    public static void MapWebPages(this IEndpointRouteBuilder app, string assets)
    {
        app.MapStaticAssets(assets).Finally(address => Close(address, OfDoor));
        app.MapGet("/register.csv", RegisterRoute.CsvAsync).Needs(Right.Look).WithMetadata(new PersonalFile()).ExcludeFromDescription();
        app.MapGet("/register.json", RegisterRoute.JsonAsync).Needs(Right.Look).WithMetadata(new PersonalFile()).ExcludeFromDescription();
        app.MapGet("/vehicles.csv", VehiclesRoute.CsvAsync).Needs(Right.Look).WithMetadata(new PersonalFile()).ExcludeFromDescription();
        // Nothing may frame a page: the host says so for all answers.
        app.MapRazorComponents<Document>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null).WithStaticAssets(assets).Finally(page => Close(page, _ => false));
    }

    /// <summary>What says nothing else is for those who may look.</summary>
    private static void Close(EndpointBuilder address, Func<string, bool> isOpen)
    {
        if (address.Metadata.Any(m => m is IAuthorizeData or IAllowAnonymous)) return;
        var path = (address as RouteEndpointBuilder)?.RoutePattern.RawText ?? "";
        address.Metadata.Add(isOpen(path) ? new AllowAnonymousAttribute() : new AuthorizeAttribute(nameof(Right.Look)));
    }

    private static bool OfDoor(string path) => StylesOfDoor.Any(s => path.TrimStart('/').StartsWith($"_content/AxleTelemetry.Web/{s}.", StringComparison.Ordinal));
}

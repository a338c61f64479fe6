using AxleTelemetry.Web.Frame;
using AxleTelemetry.Web.People;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
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
        services.AddAuthentication(MachineSignIn.Way).AddScheme<AuthenticationSchemeOptions, MachineSignIn>(MachineSignIn.Way, null);
        services.AddAuthorization();
        return services;
    }

    /// <summary>Scripts and styles, then the pages.</summary>
    /// <param name="app">The host.</param>
    /// <param name="assets">The list of scripts and styles that the build has made for the program.</param>
    public static void MapWebPages(this IEndpointRouteBuilder app, string assets)
    {
        app.MapStaticAssets(assets);
        app.MapRazorComponents<Document>().AddInteractiveServerRenderMode().WithStaticAssets(assets);
    }
}

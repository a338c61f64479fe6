using System.Collections.Immutable;
using System.Security.Claims;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Messages.Settings;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using OpenIddict.Abstractions;
using OpenIddict.Server;
using OpenIddict.Server.AspNetCore;
using static OpenIddict.Abstractions.OpenIddictConstants;
using static OpenIddict.Server.OpenIddictServerEvents;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>A real provider of OpenID Connect (OpenIddict), at which whoever comes is signed in as a test says.</summary>
internal sealed class Provider : IAsyncDisposable
{
    public const string ClientId = "axles", ClientSecret = "a secret of the provider";

    private WebApplication _app = null!;

    public Uri Address { get; private set; } = null!;

    /// <summary>Who comes next: number, name, what he is there.</summary>
    public (string Number, string? Name, string[] Groups) Next { get; set; } = ("17", "mira", ["dispatch"]);

    public static async Task<Provider> OpenAsync()
    {
        var provider = new Provider();
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddOpenIddict().AddServer(provider.Set);
        provider._app = builder.Build();
        provider._app.UsePathBase("/realm");
        provider._app.UseAuthentication();
        await provider._app.StartAsync(TestContext.Current.CancellationToken);
        provider.Address = new Uri(provider._app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single() + "/realm");
        return provider;
    }

    /// <summary>Settings that name it.</summary>
    public ServiceConfiguration In(ServiceConfiguration configuration) => In(configuration, Address);

    /// <summary>The same with a slash at the end of its address.</summary>
    public ServiceConfiguration InWithSlash(ServiceConfiguration configuration) => In(configuration, new Uri($"{Address}/"));

    private static ServiceConfiguration In(ServiceConfiguration configuration, Uri address)
    {
        var openId = new OpenIdSettings("the house", address, ClientId, "unread", "groups", ImmutableSortedDictionary<string, ImmutableArray<string>>.Empty.Add("controller", ["dispatch"]).Add("administrator", ["masters"]));
        return configuration with { Settings = configuration.Settings with { Http = configuration.Settings.Http with { OpenId = openId } }, OpenIdSecret = new Secret(ClientSecret) };
    }

    /// <summary>What a browser does there: follows the link, and is sent back.</summary>
    public static async Task<Uri> FollowAsync(string link)
    {
        using var browser = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false });
        using var answer = await browser.GetAsync(new Uri(link), TestContext.Current.CancellationToken);
        Assert.True(answer.Headers.Location is not null, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        return answer.Headers.Location;
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
    }

    private void Set(OpenIddictServerBuilder server)
    {
        server.SetAuthorizationEndpointUris("authorize").SetTokenEndpointUris("token").AllowAuthorizationCodeFlow().RequireProofKeyForCodeExchange();
        server.AddEphemeralEncryptionKey().AddEphemeralSigningKey().RegisterScopes(Scopes.Profile, Scopes.Email).EnableDegradedMode();
        server.UseAspNetCore().DisableTransportSecurityRequirement();
        server.AddEventHandler<ValidateAuthorizationRequestContext>(b => b.UseInlineHandler(context =>
        {
            if (context.ClientId != ClientId || !context.RedirectUri!.EndsWith("/sign-in/open-id", StringComparison.Ordinal)) context.Reject(Errors.InvalidClient);
            return default;
        }));
        server.AddEventHandler<ValidateTokenRequestContext>(b => b.UseInlineHandler(context =>
        {
            if (context.ClientId != ClientId || context.ClientSecret != ClientSecret) context.Reject(Errors.InvalidClient);
            return default;
        }));
        server.AddEventHandler<HandleAuthorizationRequestContext>(b => b.UseInlineHandler(context =>
        {
            var who = new ClaimsIdentity("test");
            who.SetClaim(Claims.Subject, Next.Number).SetClaim(Claims.PreferredUsername, Next.Name).SetClaims("groups", [.. Next.Groups]);
            who.SetDestinations(_ => [Destinations.IdentityToken]).SetScopes(context.Request.GetScopes());
            context.SignIn(new ClaimsPrincipal(who));
            return default;
        }));
    }
}

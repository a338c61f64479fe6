using System.Data.Common;
using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>Sign-in, rights, limits and what is noted of them, put into a host. Wiring only.</summary>
public static class PeopleHost
{
    /// <summary>The cookie of whoever is signed in.</summary>
    public const string Cookie = "axletelemetry";

    private const string Who = "who", Keys = "people-keys", SignOutAddress = "/sign-out";
    private const int Failures = 5;
    private static readonly TimeSpan Locked = TimeSpan.FromMinutes(15), Kept = TimeSpan.FromHours(12);

    /// <summary>What sign-in needs.</summary>
    public static IServiceCollection AddPeople(this IServiceCollection services, PeopleSettings settings)
    {
        services.AddSingleton(settings).AddHttpContextAccessor();
        var file = new DbConnectionStringBuilder { ["Data Source"] = PeopleFile.PathIn(settings.Directory) };
        services.AddDbContextFactory<PeopleContext>(o => o.UseSqlite(file.ConnectionString));
        services.AddSingleton<PeopleFile>().AddHostedService<PeopleStart>();
        services.AddSingleton<AccessLog>().AddSingleton<IAccessLog>(s => s.GetRequiredService<AccessLog>()).AddHostedService(s => s.GetRequiredService<AccessLog>());
        services.AddScoped<AccountLog>().AddScoped<IAccountLog>(s => s.GetRequiredService<AccountLog>()).AddScoped<OneTimeLinks>().AddScoped<ProgramTokens>().AddScoped<Door>().AddScoped<PeopleDesk>();
        services.AddSingleton<FirstStart>().AddSingleton<OwnFleets>();
        services.AddDataProtection().SetApplicationName(Cookie).PersistKeysToFileSystem(new DirectoryInfo(KeysIn(settings.Directory)));
        AddIdentity(services);
        AddWays(services, settings);
        AddRights(services);
        services.AddAntiforgery(o => (o.Cookie.Name, o.Cookie.SameSite, o.Cookie.SecurePolicy) = ($"{Cookie}-forms", SameSiteMode.Strict, CookieSecurePolicy.SameAsRequest));
        services.AddRateLimiter(o => PeopleLimits.Set(o, settings));
        return services;
    }

    /// <summary>Directory of the keys that cookies are sealed with.</summary>
    public static string KeysIn(string directory) => Path.Combine(directory, Keys);

    /// <summary>Between routing and the addresses: who asks, whether he may, and the note of it.</summary>
    public static void UsePeople(this IApplicationBuilder app)
    {
        // A provider's answer is taken in authentication itself: what bounds how often stands before it.
        app.UseRateLimiter(PeopleLimits.OfTries());
        app.UseAuthentication();
        app.UseRateLimiter();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.UseMiddleware<AccessNote>();
    }

    /// <summary>What is no page: leaving, and coming by a provider.</summary>
    public static void MapPeople(this IEndpointRouteBuilder app)
    {
        app.MapPost(SignOutAddress, LeaveAsync).Needs(Right.Look).ExcludeFromDescription();
        if (app.ServiceProvider.GetRequiredService<PeopleSettings>().OpenId is not null) OpenIdSignIn.Map(app);
    }

    /// <summary>Says what right an address asks for. One without any is closed to everybody.</summary>
    public static TBuilder Needs<TBuilder>(this TBuilder address, Right right) where TBuilder : IEndpointConventionBuilder => address.RequireAuthorization(right.ToString());

    /// <summary>Says that an address asks for nothing.</summary>
    public static TBuilder IsOpen<TBuilder>(this TBuilder address) where TBuilder : IEndpointConventionBuilder => address.AllowAnonymous();

    private static void AddIdentity(IServiceCollection services)
    {
        services.AddIdentityCore<Person>(o =>
        {
            (o.Password.RequiredLength, o.Password.RequireDigit, o.Password.RequireLowercase, o.Password.RequireUppercase, o.Password.RequireNonAlphanumeric) = (Door.LeastPassword, false, false, false, false);
            o.Password.RequiredUniqueChars = 4;
            (o.Lockout.MaxFailedAccessAttempts, o.Lockout.DefaultLockoutTimeSpan) = (Failures, Locked);
        }).AddRoles<IdentityRole>().AddEntityFrameworkStores<PeopleContext>().AddSignInManager();
        services.AddOptions<SecurityStampValidatorOptions>().Configure<TimeProvider>((o, clock) => (o.ValidationInterval, o.TimeProvider, o.OnRefreshingPrincipal) = (PersonWatch.Often, clock, ElsewhereTerm.KeepAsync));
        services.AddCascadingAuthenticationState();
        services.AddScoped<AuthenticationStateProvider, PersonWatch>();
    }

    private static void AddWays(IServiceCollection services, PeopleSettings settings)
    {
        var ways = services.AddAuthentication(Who);
        ways.AddPolicyScheme(Who, null, o => o.ForwardDefaultSelector = http =>
            settings.SignsInByItself ? MachineSignIn.Way : TokenSignIn.Sends(http.Request) ? TokenSignIn.Way : IdentityConstants.ApplicationScheme);
        ways.AddScheme<AuthenticationSchemeOptions, TokenSignIn>(TokenSignIn.Way, null);
        if (settings.SignsInByItself) ways.AddScheme<AuthenticationSchemeOptions, MachineSignIn>(MachineSignIn.Way, null);
        ways.AddIdentityCookies();
        if (settings.OpenId is { } provider) OpenIdSignIn.Add(ways, provider);
        services.ConfigureApplicationCookie(o =>
        {
            (o.Cookie.Name, o.Cookie.HttpOnly, o.Cookie.SameSite, o.Cookie.SecurePolicy) = (Cookie, true, SameSiteMode.Lax, CookieSecurePolicy.SameAsRequest);
            (o.ExpireTimeSpan, o.SlidingExpiration) = (Kept, true);
            (o.LoginPath, o.AccessDeniedPath, o.ReturnUrlParameter) = (SignInPage.Address, NotAllowedPage.Address, SignInPage.BackField);
            o.Events.OnValidatePrincipal = ElsewhereTerm.ValidateAsync;
            (o.Events.OnRedirectToLogin, o.Events.OnRedirectToAccessDenied) = (Refusals.ToSignIn, Refusals.ToNotAllowed);
        });
    }

    private static void AddRights(IServiceCollection services)
    {
        var rights = services.AddAuthorizationBuilder();
        foreach (var right in Rights.All) rights.AddPolicy(right.ToString(), p => p.RequireRole(Rights.RolesWith(right)));
        // What says no right is closed; only that a method is not allowed, an answer of routing itself, is told to all who may look.
        rights.SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireRole(Rights.RolesWith(Right.Look))
            .RequireAssertion(c => c.Resource is HttpContext http && (http.GetEndpoint()?.Metadata.Count ?? 0) == 0).Build());
    }

    private static async Task<IResult> LeaveAsync(HttpContext http, IAntiforgery forms, Door door)
    {
        if (!await forms.IsRequestValidAsync(http)) return Results.Problem(title: "The form is not taken.", detail: "Load the page again: its form was not made for you.", statusCode: StatusCodes.Status400BadRequest);
        await door.LeaveAsync(http.User.Identity?.Name);
        return Results.Redirect(SignInPage.Address);
    }
}

using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>Who is let in, and by what.</summary>
public static class PeopleSetup
{
    /// <summary>Policy of endpoints that act on alerts.</summary>
    public const string MayAct = "may act";

    /// <summary>Policy of endpoints that set up or repair.</summary>
    public const string Administers = "administers";

    /// <summary>How a principal is known to be a person who has signed in with a password.</summary>
    public const string OfPersons = "Identity.Application";

    internal const string SignInLimit = "sign-in";

    private const string Way = "who";
    private const int Attempts = 5, MinutesLocked = 15, LeastPassword = 12, TriesAMinute = 20, MinutesBetweenLooks = 1, HoursSignedIn = 12;

    /// <summary>Programs by their tokens, people by their passwords.</summary>
    /// <param name="services">The host's.</param>
    /// <param name="directory">Where people.db and the keys of cookies lie.</param>
    /// <param name="isOfSettings">True for the header with the token of the settings.</param>
    public static void AddPeople(this IServiceCollection services, DirectoryInfo directory, Func<string, bool> isOfSettings)
    {
        var keys = Path.Combine(directory.FullName, "keys");
        CreatePrivate(directory.FullName);
        CreatePrivate(keys);
        services.AddDataProtection().SetApplicationName("AxleTelemetry").PersistKeysToFileSystem(new DirectoryInfo(keys));
        var people = Path.Combine(directory.FullName, "people.db");
        CreatePrivateFile(people);
        services.AddDbContextFactory<PeopleStore>(o => o.UseSqlite($"Data Source={people}"));
        services.AddIdentityCore<IdentityUser>(Rules).AddRoles<IdentityRole>().AddEntityFrameworkStores<PeopleStore>().AddSignInManager().AddDefaultTokenProviders();
        services.AddAuthentication(Way).AddPolicyScheme(Way, null, o => o.ForwardDefaultSelector = http => IsProgram(http) ? ProgramSignIn.Way : IdentityConstants.ApplicationScheme)
            .AddScheme<ProgramSignInOptions, ProgramSignIn>(ProgramSignIn.Way, o => o.IsOfSettings = isOfSettings)
            .AddIdentityCookies(c => c.ApplicationCookie!.Configure(Cookie));
        services.Configure<SecurityStampValidatorOptions>(o => o.ValidationInterval = TimeSpan.FromMinutes(MinutesBetweenLooks));
        services.AddHttpContextAccessor().AddSingleton<FirstKey>().AddSingleton<ProgramTokens>().AddSingleton<AccessLog>();
        services.AddScoped<AuthenticationStateProvider, CircuitPerson>();
        AddPolicies(services);
    }

    /// <summary>Whoever sits at this machine, with every role.</summary>
    public static void AddMachine(this IServiceCollection services, Func<string, bool> isOfSettings)
    {
        services.AddDataProtection().UseEphemeralDataProtectionProvider();
        services.AddAuthentication(Way).AddPolicyScheme(Way, null, o => o.ForwardDefaultSelector = http => IsProgram(http) ? ProgramSignIn.Way : MachineSignIn.Way)
            .AddScheme<ProgramSignInOptions, ProgramSignIn>(ProgramSignIn.Way, o => o.IsOfSettings = isOfSettings)
            .AddScheme<AuthenticationSchemeOptions, MachineSignIn>(MachineSignIn.Way, null);
        AddPolicies(services);
    }

    /// <summary>True for the addresses that programs use: what they get is never a page.</summary>
    public static bool IsForPrograms(PathString path) => Array.Exists(ForPrograms, p => path.StartsWithSegments(p));

    private static readonly string[] ForPrograms = ["/api", "/health", "/metrics", "/openapi"];

    private static void AddPolicies(IServiceCollection services)
    {
        services.AddAuthorizationBuilder()
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build())
            .AddPolicy(MayAct, p => p.RequireRole(Roles.MayAct.Split(',')))
            .AddPolicy(Administers, p => p.RequireRole(Roles.Administrator));
        services.AddRateLimiter(limits =>
        {
            limits.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            limits.AddPolicy(SignInLimit, http => !HttpMethods.IsPost(http.Request.Method) ? RateLimitPartition.GetNoLimiter("looks")
                : RateLimitPartition.GetFixedWindowLimiter(http.Connection.RemoteIpAddress?.ToString() ?? "", _ => new() { PermitLimit = TriesAMinute, Window = TimeSpan.FromMinutes(1) }));
        });
    }

    private static bool IsProgram(HttpContext http) => ProgramSignIn.IsMeant(http.Request.Headers.Authorization.ToString());

    private static void Rules(IdentityOptions options)
    {
        // Length is what makes a password hard to guess; rules of its make-up make it hard to keep.
        options.Password = new PasswordOptions { RequiredLength = LeastPassword, RequireDigit = false, RequireLowercase = false, RequireUppercase = false, RequireNonAlphanumeric = false, RequiredUniqueChars = 5 };
        options.Lockout = new LockoutOptions { MaxFailedAccessAttempts = Attempts, DefaultLockoutTimeSpan = TimeSpan.FromMinutes(MinutesLocked), AllowedForNewUsers = true };
    }

    private static void Cookie(CookieAuthenticationOptions options)
    {
        options.Cookie.Name = "axletelemetry";
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = SameSiteMode.Strict;
        options.ExpireTimeSpan = TimeSpan.FromHours(HoursSignedIn);
        options.LoginPath = "/sign-in";
        options.AccessDeniedPath = "/not-allowed";
        options.ReturnUrlParameter = "then";
        options.Events.OnRedirectToLogin = to => Turn(to, StatusCodes.Status401Unauthorized);
        options.Events.OnRedirectToAccessDenied = to => Turn(to, StatusCodes.Status403Forbidden);
    }

    // A program is told by a status, a person by a page.
    private static Task Turn(RedirectContext<CookieAuthenticationOptions> to, int status)
    {
        if (IsForPrograms(to.Request.Path) || to.Request.Path.StartsWithSegments("/_blazor")) to.Response.StatusCode = status;
        else to.Response.Redirect(to.RedirectUri);
        return Task.CompletedTask;
    }

    // What lies beside it while it is open takes its mode from it.
    private static void CreatePrivateFile(string path)
    {
        if (File.Exists(path)) return;
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using var file = new FileStream(path, options);
    }

    private static void CreatePrivate(string path)
    {
        if (Directory.Exists(path)) return;
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(path);
        else Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }
}

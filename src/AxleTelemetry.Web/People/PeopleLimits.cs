using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Web.People;

/// <summary>How often may be asked: few tries to sign in from one place, and of a program or person as much as a well-behaved one needs.</summary>
internal static class PeopleLimits
{
    /// <summary>Tries to sign in, or to set or change a password, from one place in a minute.</summary>
    public const int TriesPerMinute = 10;

    /// <summary>Requests to the interface for programs that one may send at once, and a second in the long run.</summary>
    public const int Burst = 1_000, PerSecond = 100;

    /// <summary>Passwords checked side by side, whoever asks: each costs a core some tenths of a second.</summary>
    private const int SideBySide = 4, Waiting = 40;

    private static readonly string[] Tries = [SignInPage.Address, OneTimePage.Address, PasswordPage.Address];

    /// <summary>Of tries, before it is known who asks.</summary>
    public static RateLimiterOptions OfTries() => new()
    {
        RejectionStatusCode = StatusCodes.Status429TooManyRequests,
        OnRejected = RefuseAsync,
        GlobalLimiter = PartitionedRateLimiter.CreateChained(
            // Each answer of a provider that fails leaves a line in people.db.
            PartitionedRateLimiter.Create<HttpContext, string>(http => IsTry(http.Request) || http.Request.Path.StartsWithSegments(OpenIdSignIn.ReturnAddress)
                ? RateLimitPartition.GetFixedWindowLimiter(Place(http), _ => new() { PermitLimit = TriesPerMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 })
                : RateLimitPartition.GetNoLimiter("")),
            PartitionedRateLimiter.Create<HttpContext, string>(http => IsTry(http.Request)
                ? RateLimitPartition.GetConcurrencyLimiter("tries", _ => new() { PermitLimit = SideBySide, QueueLimit = Waiting, QueueProcessingOrder = QueueProcessingOrder.OldestFirst })
                : RateLimitPartition.GetNoLimiter(""))),
    };

    /// <summary>Of requests, once it is known who asks.</summary>
    public static void Set(RateLimiterOptions options, PeopleSettings settings)
    {
        options.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
        options.OnRejected = RefuseAsync;
        options.GlobalLimiter =
            PartitionedRateLimiter.Create<HttpContext, string>(http => !settings.SignsInByItself && http.Request.Path.StartsWithSegments("/api")
                ? RateLimitPartition.GetTokenBucketLimiter(http.User.Identity?.Name ?? Place(http), _ => new() { TokenLimit = Burst, TokensPerPeriod = PerSecond, ReplenishmentPeriod = TimeSpan.FromSeconds(1), QueueLimit = 0 })
                : RateLimitPartition.GetNoLimiter(""));
    }

    private static bool IsTry(HttpRequest request) => HttpMethods.IsPost(request.Method) && Array.Exists(Tries, t => request.Path.StartsWithSegments(t));

    // Who has one address of version 6 has 2^64 of them.
    private static string Place(HttpContext http) => http.Connection.RemoteIpAddress switch
    {
        null => "",
        { AddressFamily: AddressFamily.InterNetworkV6, IsIPv4MappedToIPv6: false } six => new IPAddress([.. six.GetAddressBytes()[..8], .. new byte[8]]).ToString(),
        var other => other.ToString(),
    };

    private static async ValueTask RefuseAsync(OnRejectedContext context, CancellationToken cancel)
    {
        var wait = context.Lease.TryGetMetadata(MetadataName.RetryAfter, out var after) ? after : TimeSpan.FromSeconds(1);
        context.HttpContext.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        await Results.Problem(title: "Too many requests.", detail: "More was asked than may be. Wait as long as the header 'Retry-After' says, in seconds.", statusCode: StatusCodes.Status429TooManyRequests).ExecuteAsync(context.HttpContext);
    }
}

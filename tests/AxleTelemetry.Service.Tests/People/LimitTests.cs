using System.Net;
using System.Security.Claims;
using System.Threading.RateLimiting;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>How often may be asked.</summary>
public sealed class LimitTests
{
    [Fact]
    public void A_program_that_asks_without_end_is_held_back_and_nobody_else()
    {
        var limiter = Limiter(signsIn: false);
        // While these are asked for a few may come back to it.
        var taken = Count(limiter, "scale (program)", "/api/v1/vehicles", 2 * PeopleLimits.Burst);
        Assert.InRange(taken, PeopleLimits.Burst, PeopleLimits.Burst + PeopleLimits.PerSecond);
        Assert.Equal(10, Count(limiter, "yard (program)", "/api/v1/vehicles", 10));
        Assert.Equal(10, Count(limiter, "scale (program)", "/now", 10));
        Assert.Equal(2 * PeopleLimits.Burst, Count(Limiter(signsIn: true), "demonstration", "/api/v1/vehicles", 2 * PeopleLimits.Burst));
    }

    [Fact]
    public async Task Who_is_held_back_is_told_when_to_come_again()
    {
        await using var door = await ServedDoor.OpenAsync();
        var (program, _) = await door.ProgramAsync(Roles.Viewer);
        using var __ = program;
        for (var i = 0; i < 20; i++)
        {
            var answers = await Task.WhenAll(Enumerable.Range(0, PeopleLimits.Burst / 4).Select(_ => program.GetAsync(new Uri("/api/v1/alerts?fleet=none", UriKind.Relative), TestContext.Current.CancellationToken)));
            if (Array.Find(answers, a => a.StatusCode == HttpStatusCode.TooManyRequests) is not { } held) continue;
            Assert.True(held.Headers.RetryAfter?.Delta > TimeSpan.Zero);
            return;
        }

        Assert.Fail("It was never held back.");
    }

    private static PartitionedRateLimiter<HttpContext> Limiter(bool signsIn)
    {
        var options = new RateLimiterOptions();
        PeopleLimits.Set(options, new PeopleSettings { Directory = "", SignsInByItself = signsIn });
        return options.GlobalLimiter!;
    }

    private static int Count(PartitionedRateLimiter<HttpContext> limiter, string who, string path, int times)
    {
        var http = new DefaultHttpContext { User = new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.Name, who)], "test")) };
        (http.Request.Method, http.Request.Path) = (HttpMethods.Get, path);
        return Enumerable.Range(0, times).Count(_ =>
        {
            using var lease = limiter.AttemptAcquire(http);
            return lease.IsAcquired;
        });
    }
}

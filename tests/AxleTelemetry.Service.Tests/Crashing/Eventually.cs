using System.Diagnostics;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Waits for what other processes do: looks again and again until a deadline.</summary>
internal static class Eventually
{
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60), Look = TimeSpan.FromMilliseconds(5);

    /// <summary>Waits until a condition holds; fails at the deadline, saying how it stands then.</summary>
    public static async Task Holds(Func<bool> condition, Func<string> standing, TimeSpan? look = null)
    {
        var began = Stopwatch.GetTimestamp();
        using var timer = new PeriodicTimer(look ?? Look);
        while (!condition())
        {
            Assert.True(Stopwatch.GetElapsedTime(began) < Deadline, $"Not within {Deadline}: {standing()}");
            await timer.WaitForNextTickAsync(TestContext.Current.CancellationToken);
        }
    }
}

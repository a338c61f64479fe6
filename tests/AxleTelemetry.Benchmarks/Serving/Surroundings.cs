using System.Diagnostics;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>Where and under what other load something is measured.</summary>
internal static class Surroundings
{
    /// <summary>One line for people.</summary>
    public static string Line() => FormattableString.Invariant($"{Environment.ProcessorCount} cores, {Model()}, .NET {Environment.Version}, load average {LoadAverage()}");

    /// <summary>The load average over the last minute, this program included.</summary>
    public static string LoadAverage() => File.ReadAllText("/proc/loadavg").Split(' ')[0];

    /// <summary>How long the disk under the temporary directory takes to keep four kilobytes for good.</summary>
    public static TimeSpan SyncTime()
    {
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        using var stream = new FileStream(file, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
        var times = new List<TimeSpan>();
        for (var i = 0; i < 200; i++)
        {
            stream.Write(new byte[4096]);
            var began = Stopwatch.GetTimestamp();
            stream.Flush(flushToDisk: true);
            times.Add(Stopwatch.GetElapsedTime(began));
        }

        return times.Order().ElementAt(times.Count / 2);
    }

    private static string Model() =>
        File.ReadLines("/proc/cpuinfo").FirstOrDefault(l => l.StartsWith("model name", StringComparison.Ordinal))?.Split(':')[1].Trim() ?? "unknown processor";
}

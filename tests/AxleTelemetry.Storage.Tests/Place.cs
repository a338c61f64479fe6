using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Storage.Tests;

/// <summary>A directory of a test's own, taken away at its end.</summary>
internal sealed class Place : IDisposable
{
    public const string Shard = "main";

    /// <summary>No reserve: most tests have nothing to do with it.</summary>
    public static readonly JournalOptions Plain = new() { ReserveBytes = 0 };

    public string Path { get; } = Directory.CreateTempSubdirectory("journal-").FullName;

    public string Database => System.IO.Path.Combine(Path, Shard + ".db");

    public Journal Open(JournalOptions? options = null) =>
        Assert.IsType<JournalOpening.Opened>(Journal.Open(Path, Shard, options ?? Plain)).Journal;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

internal static class Outcomes
{
    public static long Done(this WriteOutcome outcome) => Assert.IsType<WriteOutcome.Committed>(outcome).Rows;

    /// <summary>Repeats a step until it has nothing more to do; rows in all.</summary>
    public static long Through(Func<WriteOutcome> step)
    {
        for (var rows = 0L; ;)
        {
            var done = Assert.IsType<WriteOutcome.Committed>(step());
            rows += done.Rows;
            if (!done.More) return rows;
        }
    }
}

using System.Diagnostics;
using AxleTelemetry.Benchmarks.Serving;

namespace AxleTelemetry.Benchmarks.Core;

/// <summary>
/// The same as <see cref="LaneBenchmarks"/> as the least of many short stretches: on a machine that others use too, means say what the others do. To compare
/// two versions, run both by turns.
/// </summary>
internal static class CoreCost
{
    private const int Warm = 20, Single = 500;

    public static void Run(int rounds)
    {
        Console.WriteLine(Surroundings.Line());
        var core = new LaneBenchmarks();
        core.Setup();
        for (var i = 0; i < Warm; i++) core.Hour_of_samples();
        Stretch[] stretches =
        [
            new("one sample, mean over an hour", () => core.Hour_of_samples(), 1, LaneBenchmarks.Samples),
            new("a settled reading taken", () => core.One_settled_reading_taken(), Single, Single),
            new("present configuration judged", () => core.Present_configuration_judged(), Single, Single),
            new("all configurations judged", () => core.All_configurations_judged(), Single / 4, Single / 4),
        ];
        for (var round = 0; round < rounds; round++)
            foreach (var stretch in stretches) stretch.Time();
        foreach (var stretch in stretches) Console.WriteLine(FormattableString.Invariant($"{stretch.Name}: {stretch.Least:0.000} us, {stretch.Allocated:0} bytes"));
    }

    private sealed class Stretch(string name, Action run, int times, int operations)
    {
        public string Name => name;

        public double Least { get; private set; } = double.PositiveInfinity;

        /// <summary>By the stretch timed last: all have long been warm.</summary>
        public double Allocated { get; private set; }

        public void Time()
        {
            var (before, began) = (GC.GetAllocatedBytesForCurrentThread(), Stopwatch.GetTimestamp());
            for (var i = 0; i < times; i++) run();
            Least = Math.Min(Least, Stopwatch.GetElapsedTime(began).TotalMicroseconds / operations);
            Allocated = (GC.GetAllocatedBytesForCurrentThread() - before) / (double)operations;
        }
    }
}

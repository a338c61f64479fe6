using System.Diagnostics;
using AxleTelemetry.Benchmarks.Serving;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Benchmarks.Simulating;

/// <summary>What a simulated vehicle-day costs: accuracy is measured over hundreds of them.</summary>
internal static class SimulatedDayCost
{
    public static void Run(int vehicles)
    {
        foreach (var every in (int[])[1, 10, 1])
        {
            var fleet = SimulatedFleet.Draw(1, new FleetPlan { Units = FleetPlan.InTurn(vehicles), EverySeconds = every });
            var (began, processor, allocated) = (Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime, GC.GetTotalAllocatedBytes());
            double seconds = 0;
            long bytes = 0, records = 0;
            foreach (var vehicle in fleet.Vehicles)
            {
                DayOutput? first = null, last = null;
                foreach (var output in vehicle.Play(0, 1))
                {
                    first ??= output;
                    last = output;
                    if (output is DayOutput.Sent sent) bytes += sent.Message.Payload.Length;
                    else records++;
                }

                seconds += last!.At.SecondsSince(first!.At);
            }

            var used = (Environment.CpuUsage.TotalTime - processor).TotalMicroseconds;
            Console.WriteLine(FormattableString.Invariant(
                $"{vehicles} vehicle-days, a sample every {every} s: {seconds / vehicles / 3600:0.0} h each, {used / seconds * every:0.00} us a sample of a combination, {used / 1e6 / vehicles:0.000} s of processor time a vehicle-day, {Stopwatch.GetElapsedTime(began).TotalSeconds:0.0} s in all, {bytes / 1e6 / vehicles:0.0} MB of messages and {records / vehicles} records of truth each, {(GC.GetTotalAllocatedBytes() - allocated) / 1e6 / vehicles:0} MB allocated each, load average {Surroundings.LoadAverage()}"));
        }
    }
}

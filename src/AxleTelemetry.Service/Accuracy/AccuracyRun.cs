using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>Runs fleets with known truth through the shard and prints how exact it is.</summary>
internal sealed class AccuracyRun(AccuracyPlan plan, TextWriter output, TextWriter notes)
{
    /// <summary>Runs every seed. Returns how many targets were missed.</summary>
    public int Run(CancellationToken cancel)
    {
        var table = new AccuracyTable(output);
        foreach (var seed in plan.Seeds)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Seed {seed}: {plan.Units} combinations of {Enum.GetValues<UnitKind>().Length} kinds, {plan.Days} days each, a sample every {plan.Every} s"));
            var (ticketed, handbook) = (Fleet(seed, ticketed: true, cancel), Fleet(seed, ticketed: false, cancel));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {ticketed.Sum(r => r.Legs)} legs with tickets, {handbook.Sum(r => r.Legs)} by handbook; on {ticketed.Sum(r => r.Unsettled) + handbook.Sum(r => r.Unsettled)} more too little settled"));
            table.Figures(ticketed, ticketed: true);
            table.Legs(ticketed);
            table.Figures(handbook, ticketed: false);
            output.WriteLine("  overloads found, with tickets");
            table.Overloads(ticketed);
            output.WriteLine("  alerts, with tickets");
            table.Alerts(ticketed);
            output.WriteLine("  advice, with tickets");
            table.Advised(ticketed);
            output.WriteLine();
        }

        return table.Missed;
    }

    private ImmutableArray<UnitResult> Fleet(ulong seed, bool ticketed, CancellationToken cancel)
    {
        var fleet = SimulatedFleet.Draw(seed, new FleetPlan
        {
            Units = FleetPlan.InTurn(plan.Units), EverySeconds = plan.Every, LadenMean = 0.96, LadenSd = 0.03, Ticketed = ticketed, SwapTrailers = false,
        });
        var results = new UnitResult[fleet.Vehicles.Length];
        var done = 0;
        Parallel.For(0, results.Length, new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            results[i] = UnitRun.Run(fleet, fleet.Vehicles[i], plan.Days);
            var count = Interlocked.Increment(ref done);
            if (count % 50 == 0) notes.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {seed}, {(ticketed ? "tickets" : "handbook")}: {count} of {results.Length}"));
        });
        return [.. results];
    }
}

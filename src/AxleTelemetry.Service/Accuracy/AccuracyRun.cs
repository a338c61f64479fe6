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
        foreach (var seed in plan.Seeds) Run(seed, table, cancel);
        return table.Missed;
    }

    private void Run(ulong seed, AccuracyTable table, CancellationToken cancel)
    {
        Say($"Seed {seed}: {plan.Units} combinations of {Enum.GetValues<UnitKind>().Length} kinds, {plan.Days} days each, a sample every {plan.Every} s");
        // The error budget's own fleet: laden trucks near their limits, part loads around the middle.
        var near = new FleetPlan
        {
            Units = FleetPlan.InTurn(plan.Units), EverySeconds = plan.Every, LadenMean = 0.96, LadenSd = 0.03, SwapTrailers = false,
        };
        var ticketed = Fleet(seed, near, cancel);
        Say($"  with tickets: {ticketed.Sum(r => r.Legs)} legs, on {ticketed.Sum(r => r.Unsettled)} more too little settled");
        table.Figures(ticketed, ticketed: true);
        table.Legs(ticketed);
        output.WriteLine("  alerts, with tickets");
        table.Alerts(ticketed);
        output.WriteLine("  advice, with tickets");
        table.Advised(ticketed);
        output.WriteLine("  overloads found, with tickets, trucks laden to 1.04 (sd 0.06) of what is permitted");
        table.Overloads(Fleet(seed, near with { LadenMean = 1.04, LadenSd = 0.06 }, cancel));
        output.WriteLine("  by handbook alone");
        table.Figures(Fleet(seed, near with { Ticketed = false }, cancel), ticketed: false);
        output.WriteLine("  harder than the error budget: drops taken from the rear, what is left stands in front (with tickets)");
        table.Unasked(Fleet(seed, near with { DropsFromRear = true }, cancel));
        output.WriteLine();
    }

    private void Say(FormattableString text) => output.WriteLine(text.ToString(CultureInfo.InvariantCulture));

    private ImmutableArray<UnitResult> Fleet(ulong seed, FleetPlan drawn, CancellationToken cancel)
    {
        var fleet = SimulatedFleet.Draw(seed, drawn);
        var results = new UnitResult[fleet.Vehicles.Length];
        var done = 0;
        Parallel.For(0, results.Length, new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            results[i] = UnitRun.Run(fleet, fleet.Vehicles[i], plan.Days);
            var count = Interlocked.Increment(ref done);
            if (count % 50 == 0) notes.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {seed}: {count} of {results.Length}"));
        });
        return [.. results];
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Tests.Estimation;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Findings;

/// <summary>
/// A remedy, carried out on the true payload and weighed by the independent solve, ends the overload; one per cent less
/// of it does not; and none pushes another binding limit over.
/// </summary>
public sealed class RemedyProperties
{
    private const ulong Seed = 41;

    // Loads in kg are compared to the solver's own tolerance, not to a scale's.
    private const double Tolerance = 0.5;

    public static TheoryData<string> Kinds => ["rigid-6x2-tag.json", "rigid-6x2-pusher.json", "rigid-8x4-regulated-lift.json", "tractor-4x2.json+semi-tridem-lift-first.json", "tractor-6x2-pusher.json+semi-tridem-lift-first.json"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Taking_off_what_is_advised_ends_the_overload_and_less_does_not(string files)
    {
        var bench = new RemedyBench(files);
        int takeOffs = 0, shifts = 0, axles = 0;
        foreach (var (state, configuration) in bench.Overloads(new SeededRandom(Seed), 600))
        {
            foreach (var remedy in bench.Solve(state, configuration))
            {
                switch (remedy)
                {
                    case Remedy.TakeOff take:
                        takeOffs++;
                        Assert.True(bench.Worst(take.Then, Without(bench, state, take, 1)) <= Tolerance, $"{remedy} leaves an overload, seed {Seed}");
                        Assert.True(bench.Worst(take.Then, Without(bench, state, take, 0.99)) > 0, $"{remedy}: one per cent less would do, seed {Seed}");
                        break;
                    case Remedy.Shift shift:
                        shifts++;
                        Assert.True(bench.Worst(shift.Then, Shifted(bench, state, shift, 1)) <= Tolerance, $"{remedy} leaves an overload, seed {Seed}");
                        Assert.True(bench.Worst(shift.Then, Shifted(bench, state, shift, 0.99)) > 0, $"{remedy}: one per cent less would do, seed {Seed}");
                        break;
                    case Remedy.SetAxles set:
                        axles++;
                        Assert.True(bench.Worst(set.Then, state) <= Tolerance, $"{remedy} leaves an overload, seed {Seed}");
                        Assert.True(bench.Worst(configuration, state) > 0);
                        break;
                    default:
                        Assert.Fail($"Unknown remedy {remedy}.");
                        break;
                }
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine($"{files}: {takeOffs} to take off, {shifts} to shift, {axles} to set axles");
        Assert.True(takeOffs > 20, $"only {takeOffs} removals were offered");
        if (bench.HasLift) Assert.True(axles > 20, $"only {axles} times axles were to be set");
    }

    [Fact]
    public void No_removal_is_offered_that_asks_for_more_than_twice_the_least()
    {
        var bench = new RemedyBench("rigid-6x2-tag.json");
        var several = 0;
        foreach (var (state, configuration) in bench.Overloads(new SeededRandom(Seed + 2), 300))
        {
            var removals = bench.Solve(state, configuration).OfType<Remedy.TakeOff>().Select(t => t.Kilograms).ToList();
            if (removals.Count == 0) continue;
            Assert.True(removals.Max() <= 2 * removals.Min(), $"{removals.Max()} kg beside {removals.Min()} kg");
            if (removals.Count > 1) several++;
        }

        Assert.True(several > 20, $"only {several} times more than one removal was offered");
    }

    [Fact]
    public void Sure_removal_is_never_less_than_the_plain_one_and_makes_every_limit_sure()
    {
        var bench = new RemedyBench("rigid-6x2-tag.json");
        var checkedOnes = 0;
        foreach (var (state, configuration) in bench.Overloads(new SeededRandom(Seed + 1), 300))
        {
            foreach (var take in bench.Solve(state, configuration).OfType<Remedy.TakeOff>())
            {
                if (take.SureKilograms is not { } sure) continue;
                checkedOnes++;
                Assert.True(sure >= take.Kilograms);
                Assert.True(bench.MostDeviations(take.Then, Without(bench, state, take, sure / take.Kilograms)) <= -Levels.SurelyFrom + 1e-3);
            }
        }

        Assert.True(checkedOnes > 20);
    }

    private static double[] Without(RemedyBench bench, double[] state, Remedy.TakeOff take, double part)
    {
        var p = bench.Combination.Bodies[take.Body].StateIndex;
        var after = (double[])state.Clone();
        after[p] -= part * take.Kilograms;
        after[p + 1] -= part * take.Kilograms * take.Metres;
        return after;
    }

    private static double[] Shifted(RemedyBench bench, double[] state, Remedy.Shift shift, double part)
    {
        var after = (double[])state.Clone();
        after[bench.Combination.Bodies[shift.Body].StateIndex + 1] += part * shift.Kilograms * shift.Metres;
        return after;
    }
}

/// <summary>A combination whose payload is known exactly, with the limits of 96/53/EC, and overloads drawn for it.</summary>
internal sealed class RemedyBench
{
    private static readonly LimitSet Law = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.Directive)).Set;

    private readonly Estimator _estimator;
    private readonly JudgeTable _table;
    private readonly RemedySolver _solver;
    private readonly TrueCombination _truth;

    public RemedyBench(string files)
    {
        Combination = Fleet.Couple([.. files.Split('+').Select(Fleet.Example)]);
        var model = new LoadModel(Combination);
        _estimator = new Estimator(model, [.. Combination.Sensors.Select(s => new Circuit(s, s.Sensor.Handbook))]);
        _table = new JudgeTable(model, c => MarginTable.For(Combination, c, Law, LimitContext.Undeclared));
        _solver = new RemedySolver(_table, _estimator);
        _truth = TrueCombination.AsDescribed(Combination);
    }

    public Combination Combination { get; }

    public bool HasLift => Combination.Liftable != 0;

    /// <summary>Payloads and configurations in which some binding limit is passed.</summary>
    public IEnumerable<(double[] State, Configuration Configuration)> Overloads(SeededRandom random, int tries)
    {
        for (var i = 0; i < tries; i++)
        {
            var state = new double[Combination.StateSize];
            foreach (var body in Combination.Bodies.Where(b => b.StateIndex >= 0))
            {
                var space = body.Vehicle.LoadSpace!;
                state[body.StateIndex] = random.Between(0.3, 1.25) * space.Permitted.Kilograms;
                state[body.StateIndex + 1] = state[body.StateIndex] * (space.Centre.Metres + random.Normal(0.4));
            }

            var configuration = _table.Lifts[random.Whole(0, _table.Lifts.Length - 1)];
            if (_table.At(configuration, state) is not null && Worst(configuration, state) > 5) yield return (state, configuration);
        }
    }

    public ImmutableArray<Remedy> Solve(double[] state, Configuration configuration) =>
        _solver.Solve(Known(state), _estimator.NewKnownErrors(), configuration);

    /// <summary>Greatest excess of a binding limit by the independent solve, kg.</summary>
    public double Worst(Configuration configuration, double[] state)
    {
        if (DenseStatics.Settle(_truth, configuration, state, default) is not StaticsResult.Stands stands) return double.PositiveInfinity;
        var rows = Enumerable.Range(0, Combination.Rows).Select(stands.Loads.Row).ToArray();
        return MarginTable.For(Combination, stands.Loads.Configuration, Law, LimitContext.Undeclared)
            .Where(m => m.Standing != MarginStanding.HouseRule)
            .Max(m => m.Weights.Select((w, i) => w * rows[i]).Sum() - m.Constant);
    }

    public double MostDeviations(Configuration configuration, double[] state)
    {
        var judged = _table.At(configuration, state)!;
        return _solver.Worst(judged, Known(state), _estimator.NewKnownErrors(), state)!.Value.Deviations;
    }

    private PayloadEstimate Known(double[] state)
    {
        var estimate = _estimator.NewEstimate();
        state.CopyTo(estimate.State);
        return estimate;
    }
}

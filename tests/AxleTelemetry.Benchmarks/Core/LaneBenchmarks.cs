using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Simulator.Chance;
using BenchmarkDotNet.Attributes;

namespace AxleTelemetry.Benchmarks.Core;

/// <summary>
/// The core on a 5-axle combination (tractor with a tridem semi-trailer, lifts on its first and last axle) with three sensed
/// circuits, one core. A sample is one second: three pressures and a whole position.
/// </summary>
[MemoryDiagnoser]
public class LaneBenchmarks
{
    /// <summary>Samples of one pass: an hour of steady driving, 60 settled readings.</summary>
    public const int Samples = 3600;

    private readonly List<LaneOutput> _outputs = [];
    private (int Body, Reading Reading)[] _hour = [];
    private Lane _lane = null!;
    private LaneSetup _setup = null!;
    private CircuitReading[] _settled = [];
    private JudgedConfiguration[] _all = [];
    private long _hours;

    /// <summary>Builds the combination and an hour of readings.</summary>
    [GlobalSetup]
    public void Setup()
    {
        _setup = Bench.FiveAxles();
        _hour = Bench.Hour(new SeededRandom(7));
        _lane = new Lane(_setup);
        // A warm lane: the load is known, nothing is being told.
        for (var i = 0; i < 2; i++) Hour_of_samples();
        _settled = [.. _setup.Combination.Sensors.Select(s => new CircuitReading(s.Index, 420, 90 * 90, 2))];
        _all = [.. _setup.Table.Lifts.Select(c => _setup.Table.At(c, _lane.State.Payload.State)!)];
    }

    /// <summary>Update, and judge what is driven, per sample.</summary>
    [Benchmark(OperationsPerInvoke = Samples)]
    public int Hour_of_samples()
    {
        var shift = _hours++ * Samples * 1000L;
        _outputs.Clear();
        foreach (var (body, reading) in _hour)
            _lane.Step(body, reading with { At = new Moment(reading.At.UnixMilliseconds + shift) }, _outputs);
        return _outputs.Count;
    }

    /// <summary>One settled reading taken by the estimator: what a sample costs that closes a window.</summary>
    [Benchmark]
    public double One_settled_reading_taken()
    {
        _setup.Estimator.Take(_lane.State.Payload, _lane.State.Known, _all[0].Map, default, _settled);
        return _lane.State.Payload.State[0];
    }

    /// <summary>Every limit of the configuration that is driven.</summary>
    [Benchmark]
    public double Present_configuration_judged() => Judge(_all[0]);

    /// <summary>Every limit in every configuration.</summary>
    [Benchmark]
    public double All_configurations_judged()
    {
        var sum = 0.0;
        foreach (var judged in _all) sum += Judge(judged);
        return sum;
    }

    private double Judge(JudgedConfiguration judged)
    {
        var sum = 0.0;
        Span<Estimated> excesses = stackalloc Estimated[judged.Margins.Length];
        judged.JudgeAll(_setup.Estimator, _lane.State.Payload, _lane.State.Known, excesses);
        for (var i = 0; i < excesses.Length; i++) sum += judged.VerdictOf(i, excesses[i], _lane.State.Payload).Excess.Sd;
        return sum;
    }
}

/// <summary>What the benchmark of the core runs on.</summary>
internal static class Bench
{
    private static readonly double[] Kilopascals = [380, 420, 415];

    public static LaneSetup FiveAxles()
    {
        var semi = Example("semi-tridem-lift-first.json");
        // Three circuits: the drive axle, the trailer's lifting axle, its two others.
        semi = semi with
        {
            Sensors = [semi.Sensors[0] with { Key = "first", Axles = [0] }, semi.Sensors[0] with { Key = "others", Axles = [1, 2] }],
            // A second lift, so that there are four configurations.
            Axles = semi.Axles.SetItem(2, semi.Axles[2] with { Lift = new Lift() }),
        };
        var combination = ((CouplingResult.Coupled)Combination.Couple([Example("tractor-4x2.json"), semi])).Combination;
        var law = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.Directive)).Set;
        return LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, law, LimitContext.Undeclared));
    }

    public static (int Body, Reading Reading)[] Hour(SeededRandom random)
    {
        var hour = new List<(int, Reading)>();
        for (var s = 0; s < LaneBenchmarks.Samples; s++)
        {
            var at = new Moment(1_772_432_045_000 + s * 1000L);
            hour.Add((0, new Reading(at, ReadingKind.Pressure, 0, Kilopascals[0] + random.Normal(3))));
            hour.Add((1, new Reading(at, ReadingKind.Pressure, 0, Kilopascals[1] + random.Normal(3))));
            hour.Add((1, new Reading(at, ReadingKind.Pressure, 1, Kilopascals[2] + random.Normal(3))));
            foreach (var (key, value) in new[]
            {
                (PositionKey.Latitude, 46 + s * 1e-4), (PositionKey.Longitude, 14.5), (PositionKey.Altitude, 300),
                (PositionKey.Heading, 87), (PositionKey.Accuracy, 4), (PositionKey.Speed, 22 + random.Normal(0.05)),
            })
                hour.Add((0, new Reading(at, ReadingKind.Position, (ushort)key, value)));
        }

        return [.. hour];
    }

    private static VehicleDescription Example(string file) =>
        ((VehicleFileResult.Accepted)VehicleFile.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "examples", file)))).Vehicle;
}

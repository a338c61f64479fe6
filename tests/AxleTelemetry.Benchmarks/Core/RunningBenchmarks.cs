using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Running;
using BenchmarkDotNet.Attributes;

namespace AxleTelemetry.Benchmarks.Core;

/// <summary>Running cost of the same 5-axle combination: work of a stretch, about once a kilometre and configuration, and its value, once a look.</summary>
[MemoryDiagnoser]
public class RunningBenchmarks
{
    private readonly double[] _kilograms = [6_800, 10_400, 7_400, 7_400, 7_400];
    private readonly AxleWork[] _axles = new AxleWork[5];
    private readonly Driving _driving = new(20, Bends.OfRadius(300, 20));
    private RollingUnit _unit;
    private RoadWork _work;

    /// <summary>Builds the combination.</summary>
    [GlobalSetup]
    public void Setup()
    {
        _unit = new RollingUnit(Bench.FiveAxles().Combination, new Configuration(), RunningRules.Default);
        _work = Stretch();
    }

    /// <summary>Every axle's work per metre, and the sum over a kilometre.</summary>
    [Benchmark]
    public RoadWork Stretch()
    {
        StretchWork.PerMetre(_unit, _kilograms, _driving, _axles);
        return StretchWork.Sum(_axles, 1_000);
    }

    /// <summary>Its value with every spread, with and without hubs.</summary>
    [Benchmark]
    public Valued Value() => Valuation.Of(_work, AssumptionsFile.Shipped);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Estimation;

/// <summary>
/// Stated 95 % intervals must cover 92 to 98 % of true loads, over vehicles whose errors are drawn once per vehicle and
/// do not average away, after few and many readings and after few and many legs. The truth comes from the dense solve.
/// </summary>
public sealed class EstimatorCoverage
{
    private const ulong Seed = 20_260_302;
    private const double Least = 0.92, Most = 0.98;

    public static TheoryData<string, bool> Kinds => new()
    {
        { "rigid, rear axles sensed each", false }, { "rigid, rear axles sensed each", true },
        { "rigid, one rear circuit", false }, { "rigid, one rear circuit", true },
        { "tractor and semi-trailer", false }, { "tractor and semi-trailer", true },
        { "tractor sensed, bare semi-trailer", true },
    };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Intervals_cover_after_one_to_a_thousand_readings(string kind, bool ticketed)
    {
        var estimator = Fleet.Estimator(kind, ticketed);
        var tally = new CoverageTally();
        for (var v = 0; v < 1600; v++)
        {
            var vehicle = new DrawnVehicle(estimator, new SeededRandom(Seed + (ulong)v));
            var configuration = default(Configuration);
            var map = estimator.Model.Map(configuration)!;
            var (estimate, known) = (estimator.NewEstimate(), estimator.NewKnownErrors());
            var counts = new double[estimator.Model.Combination.Axles.Length];
            estimator.BeginLoad(estimate);
            var truth = vehicle.Loads(configuration);
            for (var n = 1; n <= 1000; n++)
            {
                var readings = vehicle.Read(truth);
                MeasuredSplit.Learn(estimator, known, configuration, readings, counts, []);
                estimator.Take(estimate, known, map, default, readings);
                if (n is 1 or 10 or 100 or 1000) tally.Compare($"after {n}", estimator, estimate, known, vehicle);
            }
        }

        tally.AssertWithin(Least, Most, $"{kind}, ticketed {ticketed}, seed {Seed}");
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Intervals_cover_after_one_to_a_hundred_legs(string kind, bool ticketed)
    {
        var estimator = Fleet.Estimator(kind, ticketed);
        var tally = new CoverageTally();
        for (var v = 0; v < 2400; v++)
        {
            var vehicle = new DrawnVehicle(estimator, new SeededRandom(Seed + 77 + (ulong)v));
            var configuration = default(Configuration);
            var map = estimator.Model.Map(configuration)!;
            var (estimate, known) = (estimator.NewEstimate(), estimator.NewKnownErrors());
            var counts = new double[estimator.Model.Combination.Axles.Length];
            // Every other vehicle carries one load through all its legs: then each leg joins the history before it.
            var sameLoad = v % 2 == 1;
            for (var leg = 1; leg <= 100; leg++)
            {
                vehicle.NewLeg();
                if (!sameLoad) vehicle.NewLoad();
                if (leg == 1 || !sameLoad) estimator.BeginLoad(estimate);
                else estimator.BeginLeg(estimate);
                var truth = vehicle.Loads(configuration);
                for (var n = 0; n < (leg is 1 or 10 or 100 ? 5 : 1); n++)
                {
                    var readings = vehicle.Read(truth);
                    MeasuredSplit.Learn(estimator, known, configuration, readings, counts, []);
                    estimator.Take(estimate, known, map, default, readings);
                }

                if (leg is 1 or 10 or 100) tally.Compare($"leg {leg}, {(sameLoad ? "same load" : "new load")}", estimator, estimate, known, vehicle);
            }
        }

        tally.AssertWithin(Least, Most, $"{kind}, ticketed {ticketed}, seed {Seed}");
    }
}

/// <summary>Counts how often an interval holds the truth, for every axle and the gross, in the present configuration and with the lifts the other way.</summary>
internal sealed class CoverageTally
{
    private readonly SortedDictionary<string, (int Held, int Of, double Width)> _cells = [];

    public void Compare(string when, Estimator estimator, PayloadEstimate estimate, KnownErrors known, DrawnVehicle vehicle)
    {
        foreach (var map in estimator.Model.LiftConfigurations())
        {
            var truth = vehicle.Loads(map.Configuration);
            var lifts = map.Configuration.Raised == 0 ? "down" : "raised";
            for (var a = 0; a < estimator.Model.Combination.Axles.Length; a++)
            {
                if (map.Configuration[a] == AxleState.Raised) continue;
                Add($"{when}, {lifts}, {estimator.Model.Combination.Axles[a].Axle.Key}", estimator.Evaluate(estimate, known, LinearForm.OfAxle(map, a)), truth.Axles[a]);
            }

            if (map.Configuration.Raised == 0)
                Add($"{when}, gross", estimator.Evaluate(estimate, known, LinearForm.OfGross(map, estimator.Model.Combination)), truth.Axles.Sum());
        }
    }

    public void AssertWithin(double least, double most, string what)
    {
        var report = string.Join('\n', _cells.Select(c => $"{Coverage(c.Value):P1} +-{c.Value.Width / c.Value.Of:0} kg  {c.Key}"));
        TestContext.Current.TestOutputHelper?.WriteLine($"{what}\n{report}");
        foreach (var (key, cell) in _cells)
        {
            // The bounds, widened by three standard errors of counting so few vehicles: a true 95 % must not fail by chance.
            var chance = 3 * Math.Sqrt(0.95 * 0.05 / cell.Of) - 0.03;
            var slack = Math.Max(0, chance);
            Assert.True(Coverage(cell) >= least - slack && Coverage(cell) <= most + slack, $"{what}: {key} covered {Coverage(cell):P1} of {cell.Of}\n{report}");
        }
    }

    private static double Coverage((int Held, int Of, double Width) cell) => (double)cell.Held / cell.Of;

    private void Add(string key, Estimated estimate, double truth)
    {
        var (held, of, width) = _cells.GetValueOrDefault(key);
        _cells[key] = (held + (truth >= estimate.Low && truth <= estimate.High ? 1 : 0), of + 1, width + estimate.HalfWidth);
    }
}

/// <summary>The combinations that are tried, from the example files.</summary>
internal static class Fleet
{
    public static Estimator Estimator(string kind, bool ticketed)
    {
        var rigid = Example("rigid-6x2-tag.json");
        Combination combination = kind switch
        {
            "rigid, rear axles sensed each" => Couple(rigid),
            "rigid, one rear circuit" => Couple(OneCircuit(rigid)),
            "tractor and semi-trailer" => Couple(Example("tractor-4x2.json"), Example("semi-tridem-lift-first.json")),
            "tractor sensed, bare semi-trailer" => Couple(Example("tractor-4x2.json"), Example("semi-tridem-lift-first.json") with { Sensors = [] }),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };
        var model = new LoadModel(combination);
        return new Estimator(model, [.. combination.Sensors.Select(s => new Circuit(s, ticketed ? Ticketed(s.Sensor.Handbook) : s.Sensor.Handbook))]);
    }

    public static VehicleDescription Example(string file)
    {
        var path = Path.Combine(AppContext.BaseDirectory, "examples", file);
        return VehicleFile.Parse(File.ReadAllBytes(path)) is VehicleFileResult.Accepted described
            ? described.Vehicle : throw new InvalidOperationException($"{file} is not valid.");
    }

    public static Combination Couple(params VehicleDescription[] vehicles) =>
        Combination.Couple(vehicles) is CouplingResult.Coupled coupled ? coupled.Combination : throw new InvalidOperationException("Not coupled.");

    private static VehicleDescription OneCircuit(VehicleDescription rigid) => rigid with
    {
        Rear = rigid.Rear with { Law = ShareLaw.OneCircuit },
        Sensors = [rigid.Sensors[0] with { Key = "rear", Axles = [1, 2] }],
    };

    /// <summary>What four or more tickets leave: gain 1.2 %, offset 60 kg, and their usual correlation.</summary>
    private static CircuitFit Ticketed(CircuitFit handbook) => handbook with
    {
        OffsetVariance = 60 * 60,
        GainVariance = Math.Pow(0.012 * handbook.KilogramsPerKilopascal, 2),
        Covariance = -0.7 * 60 * 0.012 * handbook.KilogramsPerKilopascal,
        Tickets = 6,
        Version = "tickets",
    };
}

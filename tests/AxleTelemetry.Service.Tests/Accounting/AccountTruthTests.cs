using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Running;
using AxleTelemetry.Service.Accounting;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Replaying;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;
using HistoryRow = AxleTelemetry.Domain.Histories.HistoryRow;
using RowKind = AxleTelemetry.Domain.Histories.RowKind;

namespace AxleTelemetry.Service.Tests.Accounting;

/// <summary>
/// The account of simulated days against what is true: distances, and what lifting saves by the true loads. The formula is written out here once more,
/// and loads and lowered loads are those of the simulator's own dense solve.
/// </summary>
public sealed class AccountTruthTests(ITestOutputHelper output)
{
    private const ulong Seed = 11;
    private const int Vehicles = 14, Draws = 100;

    // A month on request: ACCOUNT_DAYS=28.
    private static readonly int Days = int.Parse(Environment.GetEnvironmentVariable("ACCOUNT_DAYS") ?? "4", CultureInfo.InvariantCulture);

    [Fact]
    public void Distances_and_what_lifting_saves_are_true_and_intervals_hold()
    {
        var plan = new FleetPlan { Units = FleetPlan.InTurn(Vehicles), EverySeconds = 1, SwapTrailers = false };
        var fleet = SimulatedFleet.Draw(Seed, plan);
        var assumptions = AssumptionsFile.Shipped;
        var random = new SeededRandom(Seed);
        var (covered, drawn) = (0, 0);
        double told = 0, real = 0;
        foreach (var vehicle in fleet.Vehicles)
        {
            var (account, truth) = Run(fleet, vehicle);
            var unit = Assert.Single(account.Units(_ => assumptions));
            var metres = truth.Metres;
            Assert.InRange(unit.Tally.Metres / metres, 0.97, 1.03);
            var truthLitres = truth.Litres(assumptions, new Drag(40, 1, truth.Same, assumptions[Assumption.DrivelineEfficiency].Value));
            // Scrub has no part in the truth of this: the simulator's roads are compared by rolling and hubs.
            var rolled = Valuation.Of((unit.Tally.Lowered - unit.Tally.Driven) with { ScrubJoules = 0, Tread = 0 }, assumptions).All.Litres.Mean;
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{vehicle.Lead.Id}: {unit.Tally.Metres / 1000:0} of {metres / 1000:0} km, loads known on {unit.Tally.KnownMetres / unit.Tally.Metres:0.0 %}; saved {rolled:0.00} l, in truth {truthLitres:0.00} l; +-{unit.Saved.All.Litres.HalfWidth:0.00}"));
            (told, real) = (told + rolled, real + truthLitres);
            if (truthLitres < 0.3) continue;
            Assert.InRange(rolled / truthLitres, 0.95, 1.05);
            for (var d = 0; d < Draws; d++)
            {
                var litres = truth.Litres(assumptions, Drag.Drawn(assumptions, truth.Same.Length, random));
                drawn++;
                if (litres >= unit.Saved.All.Litres.Low && litres <= unit.Saved.All.Litres.High) covered++;
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"all: {told:0.0} l, in truth {real:0.0} l; covered {covered} of {drawn}"));
        Assert.InRange(told / real, 0.97, 1.03);
        Assert.InRange((double)covered / drawn, 0.92, 0.98);
    }

    private static (AccountBook Account, Truth Truth) Run(SimulatedFleet fleet, SimulatedVehicle vehicle)
    {
        var configuration = Configuration(fleet.Alone(vehicle));
        var replay = new Replay(configuration, TimeProvider.System);
        var truth = new Truth(configuration);
        foreach (var played in vehicle.Play(0, Days))
            if (played is DayOutput.True { Record: var record }) truth.Add(record);
            else if (played is DayOutput.Sent { Message: var message }) replay.Take(message.AsRecorded());
        replay.End();
        var found = AccountFound.Nothing;
        foreach (var row in replay.Store.History)
        {
            var reader = new ByteReader(row.Bytes.AsSpan());
            if (HistoryRowCodec.Read(ref reader) is HistoryRow.Account account) found = found.With(account, CombinationShelf.Make(account.Members, [configuration]));
        }

        Assert.True(found.Periods >= Days - 1, $"{found.Periods} periods");
        return (found.Book, truth);
    }

    private static FleetConfiguration Configuration(SimulatedFleet fleet)
    {
        var directory = Directory.CreateTempSubdirectory("account-").FullName;
        try
        {
            fleet.WriteFiles(directory);
            return Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(Path.Combine(directory, FleetFiles.Settings))).Configuration.Fleets;
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    /// <summary>How hard things roll in one vehicle.</summary>
    private sealed record Drag(double HubNewtons, double Tyres, ImmutableArray<double> ByAxle, double Efficiency)
    {
        public static Drag Drawn(Assumptions a, int axles, SeededRandom random)
        {
            return new Drag(Of(Assumption.HubDrag), Of(Assumption.TyreCoefficient),
                [.. Enumerable.Range(0, axles).Select(_ => 1 + random.Normal(a[Assumption.TyreCoefficientByAxle].Sd))], Of(Assumption.DrivelineEfficiency));

            double Of(Assumption assumption) => a[assumption].Value + random.Normal(a[assumption].Sd);
        }
    }

    /// <summary>What was rolled with which loads, and with which it would have been with every axle lowered.</summary>
    private sealed class Truth(FleetConfiguration configuration)
    {
        private readonly List<(double Metres, TruthRecord.Now At)> _stretches = [];
        private TruthRecord.Now? _before;
        private double[] _moved = [];

        public double Metres { get; private set; }

        /// <summary>Axle by axle, J at the stated coefficient: saved by lifting.</summary>
        public ImmutableArray<double> Moved => [.. _moved];

        public double RaisedMetres { get; private set; }

        public ImmutableArray<double> Same => [.. Enumerable.Repeat(1.0, _moved.Length)];

        public void Add(TruthRecord record)
        {
            if (record is TruthRecord.Now now)
            {
                if (_before is { Rolling: true } before && now.At.SecondsSince(before.At) is var seconds and > 0 and <= 11)
                    _stretches.Add(((before.Speed + now.Speed) / 2 * seconds, before));
                _before = now;
            }
            else if (record is TruthRecord.Leg leg)
            {
                End(leg);
                _stretches.Clear();
            }
        }

        public double Litres(Assumptions assumptions, Drag drag)
        {
            var joules = RaisedMetres * drag.HubNewtons;
            for (var a = 0; a < _moved.Length; a++) joules += _moved[a] * drag.Tyres * drag.ByAxle[a];
            return joules / (drag.Efficiency * assumptions[Assumption.FuelEnergy].Value * 1e6 * assumptions[Assumption.FuelDensity].Value);
        }

        private void End(TruthRecord.Leg leg)
        {
            Metres += leg.Metres;
            var rolled = _stretches.Sum(s => s.Metres);
            if (rolled <= 0 || leg.InLifts.FirstOrDefault(l => l.Raised == 0) is not { } lowered) return;
            Tyres[] tyres = [.. leg.Axles.Select(a => configuration.Fleets.SelectMany(f => f.Vehicles).Select(v => v.Description).First(v => v.Id == a.Vehicle).Axles.First(x => x.Key == a.Axle).Tyres)];
            if (_moved.Length < tyres.Length) Array.Resize(ref _moved, tyres.Length);
            foreach (var (metres, at) in _stretches)
                for (var a = 0; a < tyres.Length; a++)
                {
                    var part = metres * leg.Metres / rolled;
                    _moved[a] += part * (Newtons(tyres[a], lowered.Rows[a]) - (at.Axles[a].State == AxleState.Raised ? 0 : Newtons(tyres[a], at.Axles[a].Kilograms)));
                    if (at.Axles[a].State == AxleState.Raised) RaisedMetres += part;
                }
        }

        private static double Newtons(Tyres tyres, double kilograms) => kilograms <= 0 ? 0
            : tyres.RollingResistance / 1000 * Math.Pow(kilograms / (0.85 * tyres.Capacity.Kilograms), -0.1) * kilograms * 9.80665;
    }
}

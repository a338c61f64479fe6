using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Lanes;

/// <summary>Days of vehicles whose errors are drawn once per vehicle, second by second through a lane: each leg another load.</summary>
internal sealed class DrawnJourney
{
    private const int Legs = 3;

    private readonly SeededRandom _random;
    private readonly JourneyScript _script;

    public DrawnJourney(Combination combination, bool ticketed, ulong seed)
    {
        _random = new SeededRandom(seed);
        _script = new JourneyScript
        {
            Combination = combination,
            Truth = new TrueCombination(combination, [.. combination.Vehicles.Select(Truly)]),
            Sensors = [.. combination.Sensors.Select(s => TruthDraw.Sensor(s.Sensor, ticketed, _random))],
            Fits = [.. combination.Sensors.Select(s => ticketed ? Ticketed(s.Sensor.Handbook) : s.Sensor.Handbook)],
            Trip = LimitContext.Undeclared,
            Seed = seed,
            Start = new Moment(1_772_432_045_000),
            Steps = [.. Enumerable.Range(0, Legs).SelectMany(_ => Leg(combination)), new JourneyStep.Stand(120)],
        };
        Lane = new Lane(new LaneSetup(combination, _script.Fits, c => MarginTable.For(combination, c, Repository.Limits, _script.Trip)));
    }

    public Lane Lane { get; }

    /// <summary>The latest moment on the wheels.</summary>
    public JourneyMoment? Rolling { get; private set; }

    /// <summary>The true loads, had so much been taken off; <c>null</c> where it would not stand.</summary>
    public TrueLoads? Without(Remedy.TakeOff take, double kilograms)
    {
        double[] payload = [.. Rolling!.Payload];
        var body = Lane.Setup.Combination.Bodies[take.Body];
        payload[body.StateIndex] -= kilograms;
        payload[body.StateIndex + 1] -= kilograms * take.Metres;
        return (DenseStatics.Settle(_script.Truth, take.Then with { AtCeiling = 0 }, payload, default) as StaticsResult.Stands)?.Loads;
    }

    /// <summary>Plays to the end. At the end of each leg the truth is given; of what is said, what is said of limits.</summary>
    /// <param name="every">Pressures, positions and speeds are sent once in so many seconds.</param>
    /// <param name="leg">Called at the end of each leg, before the stop, with the true loads.</param>
    /// <param name="said">Called for each episode of a limit with the kilograms it is really passed by.</param>
    public void Play(int every, Action<TrueLoads> leg, Action<LaneOutput.Episode, double> said)
    {
        JourneyMoment? last = null, rolling = null;
        var outputs = new List<LaneOutput>();
        var moving = false;
        IEnumerable<JourneyMoment> Moments()
        {
            foreach (var moment in JourneyPlayer.Play(_script))
            {
                last = moment;
                if (moment.Speed > 0) rolling = moment;
                if ((moment.At.UnixMilliseconds - _script.Start.UnixMilliseconds) / 1000 % every == 0) yield return moment;
            }
        }

        foreach (var (body, reading) in JourneyReadings.Of(_script, Moments()))
        {
            if (reading.Kind == ReadingKind.Position && reading.Key == (ushort)PositionKey.Speed)
            {
                Rolling = rolling;
                if (moving && reading.Value == 0) leg(Loads(rolling!));
                moving = reading.Value > 0;
            }

            Lane.Step(body, reading, outputs);
            foreach (var output in outputs)
                if (output is LaneOutput.Episode { Detail: FindingDetail.Excess excess } episode) said(episode, new Truth(_script, last!).Excess(excess.Verdict.Margin));
            outputs.Clear();
        }
    }

    /// <summary>Drawn errors, somewhere in a day of 400 km: up to a quarter of a full tank is burnt.</summary>
    private TrueVehicle Truly(VehicleDescription vehicle)
    {
        var truth = TruthDraw.Vehicle(vehicle, _random);
        return truth with { Service = vehicle.Service is null ? 0 : Math.Max(75, truth.Service - 0.25 * _random.Between(0, 400)) };
    }

    private TrueLoads Loads(JourneyMoment moment) => Assert.IsType<StaticsResult.Stands>(
        DenseStatics.Settle(_script.Truth, moment.Configuration, [.. moment.Payload], default)).Loads;

    /// <summary>Now and then empty, else anything up to a little too much; lifts are up with less than half a load.</summary>
    private IEnumerable<JourneyStep> Leg(Combination combination)
    {
        var empty = _random.Chance(0.15);
        var most = 0.0;
        foreach (var body in combination.Bodies.Where(b => b.StateIndex >= 0))
        {
            var space = body.Vehicle.LoadSpace!;
            var part = empty ? 0 : _random.Between(0.15, 1.08);
            most = Math.Max(most, part);
            var mass = part * space.Permitted.Kilograms;
            yield return new JourneyStep.Load(body.Index, mass, PayloadPlace.Centre(body.Vehicle, mass) + _random.Normal(PayloadPlace.Sd(body.Vehicle, mass)), 300);
        }

        var lifts = most < 0.5 ? LiftReport.Raised : LiftReport.Lowered;
        foreach (var axle in combination.Axles.Where(a => a.Axle.Lift is not null))
            yield return new JourneyStep.Lift(axle.Index, lifts, Said: true, Done: true);
        yield return new JourneyStep.Stand(60);
        yield return new JourneyStep.Drive(8_500, _random.Between(60, 85) / 3.6, Grade: 0, Bends: false, GivenOff: 0);
    }

    private static CircuitFit Ticketed(CircuitFit handbook) => handbook with
    {
        OffsetVariance = 60 * 60,
        GainVariance = Math.Pow(0.012 * handbook.KilogramsPerKilopascal, 2),
        Version = "four tickets",
        Tickets = 4,
    };
}

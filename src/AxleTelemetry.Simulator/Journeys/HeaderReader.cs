using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>Reads what stands before a journey: which vehicles, what is believed of them, what is true of them.</summary>
internal sealed class HeaderReader(Func<string, VehicleDescription?> vehicles)
{
    private readonly List<VehicleDescription> _vehicles = [];
    private readonly Dictionary<string, (double Gain, double Offset)> _errors = [];
    private readonly Dictionary<int, double> _kerbs = [];
    private bool _ticketed;
    private double? _service;
    private LimitContext _trip = LimitContext.Undeclared;
    private ulong _seed = 1;
    private Moment _start = new(1_772_431_200_000);

    public void Read(WordReader words)
    {
        words.OneOf<Action<WordReader>>(
            ("vehicle", Vehicle), ("sensor", Sensor), ("body", Body), ("calibration", w => _ticketed = w.OneOf(("handbook", false), ("tickets", true))),
            ("trip", Trip), ("true", True), ("seed", w => _seed = (ulong)Math.Max(0, w.Number("The seed"))), ("start", Start))?.Invoke(words);
        words.End();
    }

    /// <summary>The journey without its steps, or why there is none.</summary>
    public JourneyScript? Build(out string reason)
    {
        reason = "";
        switch (Combination.Couple(_vehicles))
        {
            case CouplingResult.Impossible impossible:
                reason = impossible.Reason;
                return null;
            case CouplingResult.Coupled coupled:
                return Script(coupled.Combination);
            default:
                throw new InvalidOperationException("Coupling has no third result.");
        }
    }

    private JourneyScript Script(Combination combination)
    {
        var truth = TrueCombination.AsDescribed(combination);
        foreach (var (body, part) in _kerbs) truth = truth.With(body, v => Weighing(v, part));
        return new JourneyScript
        {
            Combination = combination,
            Truth = _service is { } service ? truth.With(0, v => v with { Service = service }) : truth,
            Sensors = [.. combination.Sensors.Select(Truth)],
            Fits = [.. combination.Sensors.Select(s => _ticketed ? Ticketed(s.Sensor.Handbook) : s.Sensor.Handbook)],
            Trip = _trip,
            Seed = _seed,
            Start = _start,
            Steps = [],
        };
    }

    /// <summary>The same vehicle, or another of its shape that was coupled in its place, with a part of its kerb mass.</summary>
    private static TrueVehicle Weighing(TrueVehicle vehicle, double part) =>
        vehicle with { KerbLoads = [.. vehicle.KerbLoads.Select(k => k * part)], KerbCoupling = vehicle.KerbCoupling * part };

    private SensorTruth Truth(SensorPart part)
    {
        var (gain, offset) = _errors.GetValueOrDefault(part.Sensor.Key);
        return new SensorTruth(part.Sensor.Handbook.OffsetKilograms + offset, part.Sensor.Handbook.KilogramsPerKilopascal * (1 + gain));
    }

    /// <summary>What four good tickets over the whole range leave unknown. Common practice.</summary>
    private static CircuitFit Ticketed(CircuitFit handbook) => handbook with
    {
        OffsetVariance = 60 * 60,
        GainVariance = Math.Pow(0.012 * handbook.KilogramsPerKilopascal, 2),
        Version = "four tickets",
        Tickets = 4,
    };

    private void Vehicle(WordReader words)
    {
        var name = words.Word("The name of a vehicle's file");
        if (vehicles(name) is { } vehicle) _vehicles.Add(vehicle);
        else words.Refuse($"There is no vehicle '{name}'.");
    }

    private void Sensor(WordReader words)
    {
        var key = words.Word("The name of a sensor");
        var change = words.OneOf<Func<PressureSensor, PressureSensor>>(
            ("vented", s => s with { Reference = PressureReference.Vented }), ("sealed", s => s with { Reference = PressureReference.Sealed }),
            ("absolute", s => s with { Reference = PressureReference.Absolute }), ("unknown", s => s with { Reference = PressureReference.Unknown }),
            ("left", s => s with { Side = CircuitSide.Left }), ("right", s => s with { Side = CircuitSide.Right }));
        if (Last(words) is not { } vehicle || change is null) return;
        if (!Known(words, key)) return;
        _vehicles[^1] = vehicle with { Sensors = [.. vehicle.Sensors.Select(s => s.Key == key ? change(s) : s)] };
    }

    private void Body(WordReader words)
    {
        if (Last(words) is not { LoadSpace: { } space } vehicle)
        {
            words.Refuse("There is no load space before this line.");
            return;
        }

        if (words.Take("discharges")) space = space with { Discharges = true };
        else
        {
            words.Expect("centre");
            var centre = Length.FromMetres(words.Metres());
            words.Expect("within");
            var sd = Length.FromMetres(words.Metres());
            space = space with { ExpectedCentre = centre, PartLoadSd = sd, FullLoadSd = sd };
        }

        _vehicles[^1] = vehicle with { LoadSpace = space };
    }

    private VehicleDescription? Last(WordReader words)
    {
        if (_vehicles.Count > 0) return _vehicles[^1];
        words.Refuse("A vehicle must stand before this line.");
        return null;
    }

    private bool Known(WordReader words, string key)
    {
        var known = _vehicles.SelectMany(v => v.Sensors).Select(s => s.Key).ToList();
        if (known.Contains(key)) return true;
        words.Refuse($"No sensor '{key}'; there is {string.Join(", ", known)}.");
        return false;
    }

    private void Trip(WordReader words) => _trip = new LimitContext
    {
        Trip = words.OneOf(("national", TripKind.National), ("international", TripKind.International), ("undeclared", TripKind.Unknown)),
    };

    private void True(WordReader words)
    {
        if (words.Take("service"))
        {
            _service = words.Kilograms();
            return;
        }

        if (words.Take("kerb"))
        {
            var part = words.Fraction();
            if (Last(words) is not null) _kerbs[_vehicles.Count - 1] = part;
            return;
        }

        var key = words.Word("The name of a sensor");
        if (!Known(words, key)) return;
        var gain = words.Take("gain") ? words.Fraction() : 0;
        var offset = words.Take("offset") ? words.Kilograms() : 0;
        _errors[key] = (gain, offset);
    }

    private void Start(WordReader words)
    {
        var text = words.Word("A time");
        if (DateTimeOffset.TryParseExact(text, "yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at))
            _start = new Moment(at.ToUnixTimeMilliseconds());
        else words.Refuse($"'{text}' is no time such as 2026-03-02T06:00:00Z.");
    }
}

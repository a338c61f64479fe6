using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>One fleet of a configuration: vehicles described, calibrated through time, limited. Immutable.</summary>
internal sealed class ConfiguredFleet
{
    private readonly ImmutableDictionary<CircuitId, CalibrationHistory> _histories;

    private ConfiguredFleet(string name, ImmutableArray<ConfiguredVehicle> vehicles, ImmutableDictionary<CircuitId, CalibrationHistory> histories)
    {
        (Name, Vehicles, _histories) = (name, vehicles, histories);
        Roster = new Roster(vehicles.Select(v => v.Description));
    }

    /// <summary>Its id in topics.</summary>
    public string Name { get; }

    /// <summary>The vehicles with the files they came from, in the order of the files' names.</summary>
    public ImmutableArray<ConfiguredVehicle> Vehicles { get; }

    /// <summary>The vehicles by id, with the names that their messages use.</summary>
    public Roster Roster { get; }

    /// <summary>The tables of limits, by country and day.</summary>
    public required LimitBook Book { get; init; }

    /// <summary>The table that holds where no country is known.</summary>
    public LimitSet Limits => Book.Stacks[0].Base;

    /// <summary>The texts the tables were read from.</summary>
    public required ImmutableArray<SourceText> LimitTexts { get; init; }

    /// <summary>Permits of its vehicles, of whatever day and place.</summary>
    public required ImmutableArray<Permit> Permits { get; init; }

    /// <summary>What is known of a trip that declares nothing itself.</summary>
    public required LimitContext Trip { get; init; }

    /// <summary>What running cost is reckoned with.</summary>
    public required Assumptions Assumptions { get; init; }

    /// <summary>The text they were read from.</summary>
    public required SourceText AssumptionsText { get; init; }

    /// <summary>By what lanes reckon running cost.</summary>
    public RunningTerms Terms => field ??= RunningTerms.By(Assumptions);

    /// <summary>The calibrations of circuits that have tickets, in no order.</summary>
    public IEnumerable<CalibrationHistory> Histories => _histories.Values;

    /// <summary>The calibrations of a circuit; empty for one without tickets.</summary>
    public CalibrationHistory History(CircuitId circuit) => _histories.GetValueOrDefault(circuit) ?? CalibrationHistory.Of(circuit);

    /// <summary>The stretch of time around a moment in which a combination's calibrations stay the same.</summary>
    public CalibrationPeriod PeriodAt(Combination combination, Moment at) => CalibrationPeriod.Around(at, CircuitsOf(combination).Select(c => History(c.Circuit)));

    /// <summary>Prepares a combination of these vehicles for a moment. Holds for the whole of <see cref="PeriodAt"/>.</summary>
    public LaneSetup Setup(Combination combination, Moment at)
    {
        var from = PeriodAt(combination, at).From;
        return new(combination, [.. CircuitsOf(combination).Select(c => FitAt(c.Circuit, c.Sensor, from))], c => MarginTable.For(combination, c, Limits, Trip)) { Terms = Terms };
    }

    /// <summary>What a pressure of each of a vehicle's sensors means at a moment, in the order of the description.</summary>
    public ImmutableArray<CircuitFit> FitsOf(VehicleDescription vehicle, Moment at) => [.. vehicle.Sensors.Select(s => FitAt(new CircuitId(vehicle.Id, s.Key), s, at))];

    /// <summary>Parses what a fleet is made of; <c>null</c> where anything is in error.</summary>
    public static ConfiguredFleet? Build(FleetSources sources, List<InputProblem> errors, List<InputProblem> warnings)
    {
        var before = errors.Count;
        var files = new InputFiles(errors, warnings);
        var vehicles = ImmutableArray.CreateBuilder<ConfiguredVehicle>();
        foreach (var source in sources.Vehicles)
            if (files.Vehicle(source.Name, source.Bytes.AsMemory()) is { } description)
                vehicles.Add(new(source, description));
        foreach (var twice in vehicles.GroupBy(v => v.Description.Id).Where(g => g.Count() > 1))
            errors.Add(new(twice.Last().Source.Name, "$.id", $"'{twice.Key}', the id of {twice.First().Source.Name} too", $"Each vehicle of a fleet has an id of its own."));
        ImmutableArray<SourceText> tables = [sources.Limits, .. sources.MoreLimits];
        var limits = Together(sources, tables, files, errors);
        var assumptions = files.Assumptions(sources.Assumptions.Name, sources.Assumptions.Bytes.AsMemory());
        var sheets = TicketSheets.Read(sources.Tickets, files, errors);
        var permits = PermitSheets.Read(sources.Permits, [.. vehicles.Select(v => v.Description)], files, errors);
        if (limits is null || assumptions is null || errors.Count > before) return null;
        var histories = new TicketHistories(sheets, errors, warnings).Of([.. vehicles.Select(v => v.Description)]);
        return errors.Count > before ? null : new ConfiguredFleet(sources.Name, vehicles.ToImmutable(), histories)
        {
            Book = limits, LimitTexts = tables, Permits = permits, Trip = sources.Trip, Assumptions = assumptions, AssumptionsText = sources.Assumptions,
        };
    }

    private static LimitBook? Together(FleetSources sources, ImmutableArray<SourceText> tables, InputFiles files, List<InputProblem> errors)
    {
        ImmutableArray<LimitSet?> read = [.. tables.Select(t => files.Limits(t.Name, t.Bytes.AsMemory()))];
        if (read.Any(r => r is null)) return null;
        switch (LimitBook.Of([.. read.OfType<LimitSet>()]))
        {
            case LimitBookResult.Made made:
                return made.Book;
            case LimitBookResult.Refused refused:
                errors.AddRange(refused.Errors.Select(e => new InputProblem(sources.Limits.Name, "", $"{tables.Length} tables of limits for fleet {sources.Name}", e)));
                return null;
            default:
                throw new InvalidOperationException("An outcome of putting tables together that nobody handles.");
        }
    }

    private CircuitFit FitAt(CircuitId circuit, PressureSensor sensor, Moment at) => History(circuit).At(at)?.FitAt(at) ?? sensor.Handbook;

    private static IEnumerable<(CircuitId Circuit, PressureSensor Sensor)> CircuitsOf(Combination combination) =>
        combination.Vehicles.SelectMany(v => v.Sensors.Select(s => (new CircuitId(v.Id, s.Key), s)));
}

/// <summary>A vehicle and the file that describes it.</summary>
internal sealed record ConfiguredVehicle(SourceText Source, VehicleDescription Description);

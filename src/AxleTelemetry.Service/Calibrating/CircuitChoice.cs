using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>Which circuits an order is about. What is wrong or odd goes to the lists.</summary>
internal sealed class CircuitChoice(CalibrationOrder order, ImmutableArray<CircuitTicket> tickets, List<InputProblem> errors, List<InputProblem> warnings)
{
    private readonly ImmutableArray<CircuitId> _ticketed = [.. tickets.Select(row => row.Circuit).Distinct()];

    /// <summary>The one circuit whose handbook was stated; without tickets it has no name.</summary>
    public ImmutableArray<(CircuitId? Circuit, CircuitSetup Setup)> Of(CircuitSetup stated)
    {
        if (order.Tickets is not { } file) return [(null, stated)];
        ImmutableArray<CircuitId> chosen = [.. _ticketed.Where(IsAskedFor)];
        if (chosen.Length == 1) return [(chosen[0], stated)];
        if (_ticketed.IsEmpty) errors.Add(new(file, "", "", "There is no ticket in it. Leave --tickets out for the handbook alone."));
        else if (chosen.IsEmpty) errors.Add(new("--circuit", "", $"'{order.Circuit}'", $"{file} has no ticket of it. There are: {List(_ticketed)}."));
        else errors.Add(new(file, "", "tickets of several circuits", $"Choose one: {List(chosen)}. Or give the vehicle file with --vehicle for all of them."));
        return [];
    }

    /// <summary>The circuit of a vehicle that is asked for, or all that have tickets; without a file of tickets all that it has.</summary>
    public ImmutableArray<(CircuitId? Circuit, CircuitSetup Setup)> Of(VehicleDescription vehicle)
    {
        ImmutableArray<CircuitId> all = [.. vehicle.Sensors.Select(sensor => new CircuitId(vehicle.Id, sensor.Key))];
        ImmutableArray<CircuitId> chosen = [.. all.Where(IsAskedFor)];
        if (all.IsEmpty) errors.Add(new(vehicle.Id, "", "", "The vehicle has no pressure sensor: there is nothing to calibrate."));
        else if (chosen.IsEmpty) errors.Add(new("--circuit", "", $"'{order.Circuit}'", $"{vehicle.Id} has: {List(all)}."));
        if (order.Tickets is { } file) chosen = Ticketed(vehicle, chosen, file);
        return [.. chosen.Select(circuit => ((CircuitId?)circuit, CircuitSetup.Of(vehicle, vehicle.Sensors.First(sensor => sensor.Key == circuit.Sensor))))];
    }

    private ImmutableArray<CircuitId> Ticketed(VehicleDescription vehicle, ImmutableArray<CircuitId> chosen, string file)
    {
        foreach (var own in _ticketed.Where(circuit => circuit.Vehicle == vehicle.Id))
            if (TicketFits.NoSuchSensor(vehicle, own, file) is { } error) errors.Add(error);
        ImmutableArray<CircuitId> with = [.. chosen.Intersect(_ticketed)];
        if (with.IsEmpty && !chosen.IsEmpty && errors.Count == 0)
            errors.Add(new(file, "", $"no ticket of {string.Join(", ", chosen)}", _ticketed.IsEmpty
                ? "Leave --tickets out for the handbook alone." : $"There are tickets of {string.Join(", ", _ticketed)}."));
        foreach (var without in chosen.Except(with)) warnings.Add(new(file, "", $"no ticket of {without}", "It keeps its handbook and has no sheet here."));
        ImmutableArray<string> strangers = [.. _ticketed.Select(circuit => circuit.Vehicle).Where(id => id != vehicle.Id).Distinct()];
        if (!strangers.IsEmpty) warnings.Add(new(file, "vehicle", string.Join(", ", strangers), $"Not {vehicle.Id}: their tickets are passed over."));
        return with;
    }

    private bool IsAskedFor(CircuitId circuit) => order.Circuit is null || order.Circuit == circuit.Sensor || order.Circuit == circuit.ToString();

    private static string List(ImmutableArray<CircuitId> circuits) => string.Join(", ", circuits.Select(circuit => $"--circuit {circuit}"));
}

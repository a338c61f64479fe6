using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Service.Calibrating;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Calibrates the circuits of vehicles from a file of tickets; a circuit without tickets keeps its handbook.</summary>
/// <param name="file">Where the tickets come from, for problems.</param>
/// <param name="tickets">All of the file.</param>
/// <param name="asOf">Day up to which the fits age.</param>
internal sealed class TicketFits(string file, ImmutableArray<CircuitTicket> tickets, Moment? asOf)
{
    /// <summary>A fit for each sensor, vehicle after vehicle; what is wrong goes to the lists.</summary>
    public ImmutableArray<CircuitFit> Of(ImmutableArray<VehicleDescription> vehicles, List<InputProblem> errors, List<InputProblem> warnings)
    {
        foreach (var circuit in tickets.Select(t => t.Circuit).Distinct())
            if (vehicles.FirstOrDefault(v => v.Id == circuit.Vehicle) is { } vehicle && NoSuchSensor(vehicle, circuit, file) is { } error) errors.Add(error);
        ImmutableArray<string> strangers = [.. tickets.Select(t => t.Circuit.Vehicle).Distinct().Where(id => vehicles.All(v => v.Id != id))];
        if (!strangers.IsEmpty)
            warnings.Add(new(file, "vehicle", string.Join(", ", strangers), "Not among these vehicles: their tickets are passed over."));
        return [.. vehicles.SelectMany(v => v.Sensors.Select(s => Fit(v, s, errors)))];
    }

    /// <summary>What is wrong where a vehicle has no such sensor; <c>null</c> where it has.</summary>
    public static InputProblem? NoSuchSensor(VehicleDescription vehicle, CircuitId circuit, string file) => vehicle.Sensors.Any(s => s.Key == circuit.Sensor)
        ? null
        : new(file, "sensor", $"'{circuit.Sensor}' of {vehicle.Id}",
            vehicle.Sensors.IsEmpty ? "It has no pressure sensor." : $"Its sensors are {string.Join(", ", vehicle.Sensors.Select(s => s.Key))}.");

    private CircuitFit Fit(VehicleDescription vehicle, PressureSensor sensor, List<InputProblem> errors)
    {
        var circuit = new CircuitId(vehicle.Id, sensor.Key);
        ImmutableArray<Ticket> own = [.. tickets.Where(t => t.Circuit == circuit).Select(t => t.Ticket)];
        if (own.IsEmpty) return sensor.Handbook;
        var setup = CircuitSetup.Of(vehicle, sensor);
        switch (CircuitCalibration.Fit(setup.Handbook, own, setup.Unsprung, CalibrationVersion.NameOf(own)))
        {
            case Calibrated done:
                return asOf is { } day ? CalibrationVersion.Aged(done.Fit, own, day) : done.Fit;
            case NotCalibrated refused:
                errors.Add(new(file, circuit.ToString(), "", refused.Explanation));
                return sensor.Handbook;
            default:
                throw new InvalidOperationException("An outcome of calibration that nobody handles.");
        }
    }
}

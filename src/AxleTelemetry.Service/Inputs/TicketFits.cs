using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;

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
            if (vehicles.FirstOrDefault(v => v.Id == circuit.Vehicle) is { } vehicle && vehicle.Sensors.All(s => s.Key != circuit.Sensor))
                errors.Add(new(file, "sensor", $"'{circuit.Sensor}' of {circuit.Vehicle}", $"Its sensors are {string.Join(", ", vehicle.Sensors.Select(s => s.Key))}."));
        ImmutableArray<string> strangers = [.. tickets.Select(t => t.Circuit.Vehicle).Distinct().Where(id => vehicles.All(v => v.Id != id))];
        if (!strangers.IsEmpty)
            warnings.Add(new(file, "vehicle", string.Join(", ", strangers), "Not among these vehicles: their tickets are passed over."));
        return [.. vehicles.SelectMany(v => v.Sensors.Select(s => Fit(v, s, errors)))];
    }

    private CircuitFit Fit(VehicleDescription vehicle, PressureSensor sensor, List<InputProblem> errors)
    {
        var circuit = new CircuitId(vehicle.Id, sensor.Key);
        ImmutableArray<Ticket> own = [.. tickets.Where(t => t.Circuit == circuit).Select(t => t.Ticket)];
        if (own.IsEmpty) return sensor.Handbook;
        var reference = vehicle.Axles[sensor.Axles[0]];
        switch (CircuitCalibration.Fit(Prior(sensor.Handbook, reference), own, reference.Unsprung, Version(own)))
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

    private static HandbookPrior Prior(CircuitFit handbook, Axle reference) => HandbookPrior.FromGain(handbook.KilogramsPerKilopascal, reference.Rating) with
    {
        OffsetKilograms = handbook.OffsetKilograms,
        GainRelativeDeviation = Math.Sqrt(handbook.GainVariance) / handbook.KilogramsPerKilopascal,
        OffsetDeviationKilograms = Math.Sqrt(handbook.OffsetVariance),
        ResidualKilograms = handbook.ResidualKilograms,
    };

    /// <summary>Day of the last ticket and their number.</summary>
    private static string Version(ImmutableArray<Ticket> tickets) =>
        FormattableString.Invariant($"{tickets.Max(ticket => ticket.At).ToString()[..10]}/{tickets.Length}");
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Service.Calibrating;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>
/// From tickets to the calibrations of each circuit through time: every weighing starts a version, from that weighing on, made of all
/// tickets up to it. So a ticket that is added later changes nothing before it. Before the first weighing the handbook holds.
/// </summary>
internal sealed class TicketHistories(ImmutableArray<TicketSheet> sheets, List<InputProblem> errors, List<InputProblem> warnings)
{
    /// <summary>The histories of all circuits with tickets; what is wrong goes to the lists.</summary>
    public ImmutableDictionary<CircuitId, CalibrationHistory> Of(ImmutableArray<VehicleDescription> vehicles)
    {
        var byId = vehicles.ToDictionary(v => v.Id, StringComparer.Ordinal);
        foreach (var sheet in sheets) CheckNames(sheet, byId);
        var histories = ImmutableDictionary.CreateBuilder<CircuitId, CalibrationHistory>();
        foreach (var own in sheets.SelectMany(s => s.Tickets).GroupBy(t => t.Circuit))
            if (byId.GetValueOrDefault(own.Key.Vehicle) is { } vehicle && vehicle.Sensors.FirstOrDefault(s => s.Key == own.Key.Sensor) is { } sensor)
                histories.Add(own.Key, History(own.Key, CircuitSetup.Of(vehicle, sensor), [.. own.Select(t => t.Ticket)]));
        return histories.ToImmutable();
    }

    private void CheckNames(TicketSheet sheet, Dictionary<string, VehicleDescription> vehicles)
    {
        foreach (var circuit in sheet.Tickets.Select(t => t.Circuit).Distinct())
            if (vehicles.GetValueOrDefault(circuit.Vehicle) is { } vehicle && TicketFits.NoSuchSensor(vehicle, circuit, sheet.File) is { } error) errors.Add(error);
        ImmutableArray<string> strangers = [.. sheet.Tickets.Select(t => t.Circuit.Vehicle).Distinct().Where(id => !vehicles.ContainsKey(id))];
        if (!strangers.IsEmpty)
            warnings.Add(new(sheet.File, "vehicle", string.Join(", ", strangers), "Not among the vehicles of this fleet: their tickets are passed over."));
    }

    private CalibrationHistory History(CircuitId circuit, CircuitSetup setup, ImmutableArray<Ticket> tickets)
    {
        // A weighing is complete with its last row.
        var complete = tickets.GroupBy(t => t.Weighing).ToDictionary(g => g.Key, g => g.Max(t => t.At));
        // The order decides the last bits of the fit, so it must not be that of files.
        ImmutableArray<Ticket> ordered = [.. tickets.OrderBy(t => complete[t.Weighing]).ThenBy(t => t.Weighing, StringComparer.Ordinal)
            .ThenBy(t => t.At).ThenBy(t => t.Pressure.Kilopascals).ThenBy(t => t.AxleLoad.Kilograms)];
        var history = CalibrationHistory.Of(circuit);
        foreach (var start in complete.Values.Distinct().Order())
        {
            ImmutableArray<Ticket> known = [.. ordered.TakeWhile(t => complete[t.Weighing] <= start)];
            switch (CircuitCalibration.Fit(setup.Handbook, known, setup.Unsprung, CalibrationVersion.NameOf(known)))
            {
                case Calibrated done:
                    history = history.Accept(new() { Circuit = circuit, ValidFrom = start, Fit = done.Fit, Tickets = known, AcceptedBy = "the tickets of the settings" });
                    break;
                case NotCalibrated refused:
                    errors.Add(new(FilesOf(circuit), circuit.ToString(), $"tickets up to {start}", refused.Explanation));
                    return history;
                default:
                    throw new InvalidOperationException("An outcome of calibration that nobody handles.");
            }
        }

        return history;
    }

    private string FilesOf(CircuitId circuit) => string.Join(", ", sheets.Where(s => s.Tickets.Any(t => t.Circuit == circuit)).Select(s => s.File));
}

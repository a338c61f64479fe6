using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>From an order to its sheets: reads the files, picks the circuits, fits, screens, ages.</summary>
internal sealed class CalibrationDesk
{
    private readonly CalibrationOrder _order;
    private readonly List<InputProblem> _errors = [];
    private readonly List<InputProblem> _warnings = [];

    private CalibrationDesk(CalibrationOrder order) => _order = order;

    /// <summary>A sheet for each circuit, or every error at once.</summary>
    public static CalibrationResult Work(CalibrationOrder order)
    {
        var desk = new CalibrationDesk(order);
        var sheets = desk.Sheets();
        return desk._errors.Count > 0 ? new CalibrationResult.Refused([.. desk._errors]) : new CalibrationResult.Done(sheets, [.. desk._warnings]);
    }

    private ImmutableArray<CalibrationSheet> Sheets()
    {
        var files = new InputFiles(_errors, _warnings);
        var tickets = _order.Tickets is { } file ? files.Tickets(file) : [];
        var described = _order.Handbook is HandbookSource.Described source ? files.Vehicle(source.File) : null;
        if (_errors.Count > 0) return [];
        var choice = new CircuitChoice(_order, tickets, _errors, _warnings);
        var circuits = _order.Handbook switch
        {
            HandbookSource.Stated stated => choice.Of(stated.Setup),
            HandbookSource.Described => choice.Of(described!),
            _ => throw new InvalidOperationException("A source of handbooks that nobody handles."),
        };
        if (_errors.Count > 0) return [];
        CheckWithout([.. tickets.Where(row => circuits.Any(c => c.Circuit == row.Circuit)).Select(row => row.Ticket.Weighing)]);
        return [.. circuits.Select(c => Sheet(c.Circuit, c.Setup, [.. tickets.Where(row => row.Circuit == c.Circuit).Select(row => row.Ticket)])).OfType<CalibrationSheet>()];
    }

    private void CheckWithout(ImmutableHashSet<string> weighings)
    {
        foreach (var missing in _order.Without.Where(weighing => !weighings.Contains(weighing)))
            _errors.Add(new("--without", "", $"'{missing}'", weighings.IsEmpty
                ? "There are no tickets to leave it out of." : $"The weighings are {string.Join(", ", weighings.Order(StringComparer.Ordinal))}."));
    }

    private CalibrationSheet? Sheet(CircuitId? circuit, CircuitSetup setup, ImmutableArray<Ticket> all)
    {
        ImmutableArray<Ticket> tickets = [.. all.Where(ticket => !_order.Without.Contains(ticket.Weighing))];
        switch (CircuitCalibration.Fit(setup.Handbook, tickets, setup.Unsprung, CalibrationVersion.NameOf(tickets)))
        {
            case NotCalibrated refused:
                _errors.Add(new(circuit?.ToString() ?? "handbook", "", "", refused.Explanation));
                return null;
            case Calibrated done:
                return new()
                {
                    Circuit = circuit,
                    Setup = setup,
                    Tickets = tickets,
                    LeftOut = [.. _order.Without.Distinct().Where(weighing => all.Any(ticket => ticket.Weighing == weighing))],
                    Fit = _order.At is { } at ? CalibrationVersion.Aged(done.Fit, tickets, at) : done.Fit,
                    At = _order.At,
                    Screening = TicketScreening.Of(done.Fit, setup.Handbook, tickets, setup.Unsprung),
                };
            default:
                throw new InvalidOperationException("An outcome of calibration that nobody handles.");
        }
    }
}

/// <summary>What came of an order.</summary>
internal abstract record CalibrationResult
{
    private CalibrationResult() { }

    /// <summary>A sheet for each circuit, at least one, and what is odd but possible.</summary>
    public sealed record Done(ImmutableArray<CalibrationSheet> Sheets, ImmutableArray<InputProblem> Warnings) : CalibrationResult;

    /// <summary>No sheet, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<InputProblem> Errors) : CalibrationResult;
}

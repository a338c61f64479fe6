using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Messages.Calibration;
using static System.FormattableString;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>From an order to a sheet: reads the tickets, picks the circuit, fits, screens, ages.</summary>
internal static class CalibrationDesk
{
    /// <summary>The sheet, or <c>null</c> with every problem listed.</summary>
    public static CalibrationSheet? Work(CalibrationOrder order, List<string> problems)
    {
        var read = order.Tickets is null ? [] : Tickets(order.Tickets, problems);
        if (problems.Count > 0) return null;
        var circuit = Circuit(order, read, problems);
        ImmutableArray<Ticket> all = [.. read.Where(row => row.Circuit == circuit).Select(row => row.Ticket)];
        foreach (var missing in order.Without.Where(weighing => all.All(ticket => ticket.Weighing != weighing)))
            problems.Add($"--without {missing}: the circuit has no such weighing.");
        if (problems.Count > 0) return null;
        ImmutableArray<Ticket> tickets = [.. all.Where(ticket => !order.Without.Contains(ticket.Weighing))];
        switch (CircuitCalibration.Fit(order.Handbook, tickets, order.Unsprung, Version(tickets)))
        {
            case NotCalibrated refused:
                problems.Add(refused.Explanation);
                return null;
            case Calibrated done:
                return Sheet(order, circuit, tickets, done.Fit);
            default:
                throw new InvalidOperationException("An outcome of calibration that nobody handles.");
        }
    }

    private static CalibrationSheet Sheet(CalibrationOrder order, CircuitId? circuit, ImmutableArray<Ticket> tickets, CircuitFit fit) => new()
    {
        Circuit = circuit,
        Handbook = order.Handbook,
        Unsprung = order.Unsprung,
        TypicalAxleLoad = order.TypicalAxleLoad,
        Tickets = tickets,
        LeftOut = order.Without,
        Fit = order.At is { } at ? CalibrationVersion.Aged(fit, tickets, at) : fit,
        At = order.At,
        Screening = TicketScreening.Of(fit, order.Handbook, tickets, order.Unsprung),
    };

    /// <summary>Day of the last ticket and their number.</summary>
    private static string Version(ImmutableArray<Ticket> tickets) =>
        tickets.IsEmpty ? "handbook" : Invariant($"{tickets.Max(ticket => ticket.At).ToString()[..10]}/{tickets.Length}");

    private static ImmutableArray<CircuitTicket> Tickets(FileInfo file, List<string> problems)
    {
        if (!file.Exists || file.Length > 4 * TicketsCsv.MostCharacters)
        {
            problems.Add(file.Exists ? $"{file}: larger than a file of tickets may be." : $"{file}: there is no such file.");
            return [];
        }
        try
        {
            switch (TicketsCsv.Parse(File.ReadAllText(file.FullName)))
            {
                case TicketsRead read:
                    return read.Tickets;
                case TicketsRefused refused:
                    problems.AddRange(refused.Problems.Select(problem => $"{file}: {problem}"));
                    return [];
                default:
                    throw new InvalidOperationException("An outcome of reading that nobody handles.");
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            problems.Add($"{file}: cannot be read. {e.Message}");
            return [];
        }
    }

    private static CircuitId? Circuit(CalibrationOrder order, ImmutableArray<CircuitTicket> read, List<string> problems)
    {
        CircuitId[] circuits = [.. read.Select(row => row.Circuit).Distinct()];
        if (order.Tickets is null) return null;
        if (circuits.Length == 0) problems.Add($"{order.Tickets}: no ticket in it. Leave --tickets out for the handbook alone.");
        else if (order.Circuit is null && circuits.Length > 1) problems.Add($"{order.Tickets}: tickets of several circuits. Choose one: {List(circuits)}.");
        else if (order.Circuit is not null && circuits.All(circuit => circuit.ToString() != order.Circuit))
            problems.Add($"--circuit {order.Circuit}: no ticket of it in {order.Tickets}. There are: {List(circuits)}.");
        else return circuits.First(circuit => order.Circuit is null || circuit.ToString() == order.Circuit);
        return null;
    }

    private static string List(CircuitId[] circuits) => string.Join(", ", circuits.Select(circuit => $"--circuit {circuit}"));
}

using AxleTelemetry.Domain.Calibration;

namespace AxleTelemetry.Messages.Calibration;

/// <summary>What the rows of a file must agree on: one weighing of a vehicle has one method and one gross, and no row stands twice.</summary>
internal sealed class WeighingSheet(List<TicketProblem> problems)
{
    private readonly Dictionary<(string Weighing, string Vehicle), (int Line, WeighingMethod Method, double? Gross)> _weighings = [];
    private readonly Dictionary<(CircuitId Circuit, Ticket Ticket), int> _rows = [];

    public void Check(int line, CircuitTicket row, double? gross)
    {
        var ticket = row.Ticket;
        if (!_rows.TryAdd((row.Circuit, ticket with { Note = "" }), line))
            problems.Add(new(line, "row", ticket.Weighing, $"The same ticket stands in line {_rows[(row.Circuit, ticket with { Note = "" })]}; it counts once."));
        var key = (ticket.Weighing, row.Circuit.Vehicle);
        if (_weighings.TryAdd(key, (line, ticket.Method, gross))) return;
        var first = _weighings[key];
        if (first.Method != ticket.Method)
            problems.Add(new(line, "method", MethodName.Of(ticket.Method), $"Weighing {ticket.Weighing} has another method in line {first.Line}; a second weighing needs a second name."));
        if (first.Gross is not null && gross is not null && first.Gross != gross)
            problems.Add(new(line, "gross_kg", FormattableString.Invariant($"{gross}"), FormattableString.Invariant($"Weighing {ticket.Weighing} has {first.Gross} in line {first.Line}; a second weighing needs a second name.")));
    }
}

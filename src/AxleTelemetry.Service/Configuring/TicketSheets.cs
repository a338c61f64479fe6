using System.Collections.Immutable;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>A file of tickets, read.</summary>
internal sealed record TicketSheet(string File, ImmutableArray<CircuitTicket> Tickets);

/// <summary>Reads the ticket files of a fleet, and holds that a weighing stands in one of them: it would count twice else.</summary>
internal static class TicketSheets
{
    public static ImmutableArray<TicketSheet> Read(ImmutableArray<SourceText> sources, InputFiles files, List<InputProblem> errors)
    {
        ImmutableArray<TicketSheet> sheets = [.. sources.Select(s => new TicketSheet(s.Name, files.Tickets(s.Name, s.Bytes.AsMemory())))];
        var seen = new Dictionary<(string Vehicle, string Weighing), string>();
        foreach (var sheet in sheets)
            foreach (var key in sheet.Tickets.Select(t => (t.Circuit.Vehicle, t.Ticket.Weighing)).Distinct())
                if (!seen.TryAdd(key, sheet.File))
                    errors.Add(new(sheet.File, "weighing", $"'{key.Weighing}' of {key.Vehicle}, which stands in {seen[key]} too", "A weighing of a vehicle stands in one file; a second weighing needs a second name."));
        return sheets;
    }
}

using AxleTelemetry.Domain.Calibration;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>What is said of a suspicious ticket.</summary>
internal static class SuspicionText
{
    public static string Of(TicketCheck check, CalibrationSheet sheet)
    {
        var ticket = check.Ticket;
        var side = check.DepartureKilograms > 0 ? "above" : "below";
        var day = ticket.At.ToString()[..10];
        var text = FormattableString.Invariant(
            $"Ticket {ticket.Weighing} ({day}, {ticket.Pressure.Kilopascals:0.#} kPa, {ticket.AxleLoad.Kilograms:#,0} kg) is {Math.Abs(check.DepartureKilograms):#,0} kg {side} what {Expecting(check)} ({Math.Abs(check.Departures):0.0} standard deviations).");
        if (check.Suspicion.HasFlag(TicketSuspicion.TicketsAlone)) text += " It is an outlier of the plain line through the tickets too.";
        if (ticket.Note.Length > 0) text += $" Noted: {ticket.Note}.";
        if (sheet.Tickets.Length is 2 or 3) text += " With so few tickets it cannot be told which of them is wrong.";
        return text + $" Compare it with the printed ticket and the pressure noted, or weigh again. The fit without it: --circuit {sheet.Circuit} --without {ticket.Weighing}.";
    }

    private static string Expecting(TicketCheck check) => check.PredictedFrom switch
    {
        0 => "the handbook leads to expect",
        1 => "the handbook and one other ticket lead to expect",
        var others => FormattableString.Invariant($"the handbook and {others} other tickets lead to expect"),
    };
}

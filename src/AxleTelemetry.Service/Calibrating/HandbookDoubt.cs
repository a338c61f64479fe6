using AxleTelemetry.Domain.Calibration;
using static System.FormattableString;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>
/// Doubt of the handbook: no ticket looks suspicious beside others that are off by the same factor, and a digit too many in the
/// bellows' area would only show as an interval of tonnes.
/// </summary>
internal static class HandbookDoubt
{
    private const double Deviations = 3;

    /// <summary>A sentence, or <c>null</c> where most tickets lie within three standard deviations of the handbook.</summary>
    public static string? Of(CalibrationSheet sheet)
    {
        double[] departures = [.. sheet.Tickets.Select(ticket => Departure(sheet, ticket)).Order()];
        if (departures.Length < 2) return null;
        var middle = (departures[(departures.Length - 1) / 2] + departures[departures.Length / 2]) / 2;
        if (Math.Abs(middle) <= Deviations) return null;
        double[] ratios = [.. sheet.Tickets.Select(ticket => ticket.SprungLoad(sheet.Unsprung).Kilograms / Predicted(sheet, ticket)).Order()];
        return Invariant($"The tickets lie {(middle < 0 ? "below" : "above")} the handbook, at about {ratios[ratios.Length / 2]:0.00} times its sprung load. ")
            + "Look at the handbook (effective area, bellows, lever, or kg per kPa) and the unsprung mass, and that axle_kg is the load of one axle. Do not use this fit before that is settled.";
    }

    private static double Predicted(CalibrationSheet sheet, Ticket ticket) =>
        sheet.Handbook.OffsetKilograms + sheet.Handbook.KilogramsPerKilopascal * ticket.Pressure.Kilopascals;

    private static double Departure(CalibrationSheet sheet, Ticket ticket)
    {
        var handbook = sheet.Handbook;
        double gain = handbook.GainDeviation * ticket.Pressure.Kilopascals, own = ticket.Deviation.Kilograms;
        var variance = gain * gain + handbook.OffsetDeviationKilograms * handbook.OffsetDeviationKilograms
            + handbook.ResidualKilograms * handbook.ResidualKilograms + own * own;
        return (ticket.SprungLoad(sheet.Unsprung).Kilograms - Predicted(sheet, ticket)) / Math.Sqrt(variance);
    }
}

using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Statistics;
using AxleTelemetry.Messages.Calibration;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>The sheet for a program. Units are in the names.</summary>
internal static class CalibrationJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Of(CalibrationSheet sheet) => JsonSerializer.Serialize(
        new
        {
            sheet.Circuit?.Vehicle,
            sheet.Circuit?.Sensor,
            At = sheet.At?.ToString(),
            UnsprungKg = sheet.Unsprung.Kilograms,
            TypicalKg = sheet.TypicalAxleLoad.Kilograms,
            HandbookKgPerKpa = sheet.Handbook.KilogramsPerKilopascal,
            sheet.LeftOut,
            Fit = Fit(sheet.Fit),
            Levels = sheet.Levels.Select(Level),
            Tickets = sheet.Screening.Checks.Select(check => Ticket(check, sheet.Tickets.Length)),
            PlainLine = sheet.Screening.PlainLine is FittedLine line ? Plain(line) : null,
        },
        Options);

    private static object Fit(CircuitFit fit) => new
    {
        fit.Version,
        fit.Tickets,
        OffsetKg = fit.OffsetKilograms,
        GainKgPerKpa = fit.KilogramsPerKilopascal,
        OffsetVarianceKg2 = fit.OffsetVariance,
        GainVarianceKg2PerKpa2 = fit.GainVariance,
        CovarianceKg2PerKpa = fit.Covariance,
        ResidualKg = fit.ResidualKilograms,
        fit.DegreesOfFreedom,
        LeastKpa = fit.LeastPressure,
        GreatestKpa = fit.GreatestPressure,
    };

    private static object Level(LoadLevel level) => new
    {
        level.Share,
        AxleKg = level.AxleKilograms,
        Kpa = level.Kilopascals,
        LineHalfWidth95Kg = level.Line.HalfWidth.Kilograms,
        ReadingHalfWidth95Kg = level.Reading.HalfWidth.Kilograms,
        level.Line.Extrapolated,
    };

    private static object Ticket(TicketCheck check, int tickets) => new
    {
        check.Ticket.Weighing,
        Time = check.Ticket.At.ToString(),
        Method = MethodName.Of(check.Ticket.Method),
        Kpa = check.Ticket.Pressure.Kilopascals,
        AxleKg = check.Ticket.AxleLoad.Kilograms,
        DeviationKg = check.Ticket.Deviation.Kilograms,
        ResidualKg = check.ResidualKilograms,
        check.Leverage,
        DepartureKg = check.DepartureKilograms,
        DepartureSd = check.Departures,
        check.Studentised,
        Suspicious = check.Suspicion != TicketSuspicion.None,
        Sentence = check.Suspicion == TicketSuspicion.None ? null : SuspicionText.Of(check, tickets),
    };

    private static object Plain(FittedLine line) => new
    {
        OffsetKg = line.Intercept,
        OffsetErrorKg = line.InterceptError,
        GainKgPerKpa = line.Slope,
        GainErrorKgPerKpa = line.SlopeError,
        ResidualKg = line.ResidualDeviation,
        line.DegreesOfFreedom,
    };
}

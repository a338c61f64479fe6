using System.Collections.Immutable;
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

    /// <summary>One sheet.</summary>
    public static string Of(CalibrationSheet sheet) => JsonSerializer.Serialize(Sheet(sheet), Options);

    /// <summary>The sheets of a vehicle as a list, of one too, so that a program need not ask which it got.</summary>
    public static string Of(ImmutableArray<CalibrationSheet> sheets) => JsonSerializer.Serialize(sheets.Select(Sheet), Options);

    private static object Sheet(CalibrationSheet sheet) => new
    {
        sheet.Circuit?.Vehicle,
        sheet.Circuit?.Sensor,
        At = sheet.At?.ToString(),
        UnsprungKg = sheet.Unsprung.Kilograms,
        TypicalKg = sheet.TypicalAxleLoad.Kilograms,
        HandbookKgPerKpa = sheet.Handbook.KilogramsPerKilopascal,
        sheet.LeftOut,
        Fit = Fit(sheet.Fit),
        HandbookDoubt = HandbookDoubt.Of(sheet),
        Levels = sheet.Levels.Select(Level),
        Tickets = sheet.Screening.Checks.Select(check => Ticket(check, sheet)),
        PlainLine = sheet.Screening.PlainLine is FittedLine line ? Plain(line) : null,
    };

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

    private static object Ticket(TicketCheck check, CalibrationSheet sheet) => new
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
        check.Ticket.Note,
        Suspicious = check.Suspicion != TicketSuspicion.None,
        Sentence = check.Suspicion == TicketSuspicion.None ? null : SuspicionText.Of(check, sheet),
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

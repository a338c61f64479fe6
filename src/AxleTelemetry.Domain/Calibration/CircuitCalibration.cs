using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>What came of a calibration: <see cref="Calibrated"/> or <see cref="NotCalibrated"/>.</summary>
public abstract record CalibrationOutcome
{
    private protected CalibrationOutcome()
    {
    }
}

/// <summary>A fit.</summary>
/// <param name="Fit">What a pressure means.</param>
public sealed record Calibrated(CircuitFit Fit) : CalibrationOutcome;

/// <summary>No fit, with the reason.</summary>
/// <param name="Reason">What was wrong.</param>
/// <param name="Explanation">The same in words, for a person, with the numbers.</param>
public sealed record NotCalibrated(NotCalibratedReason Reason, string Explanation) : CalibrationOutcome;

/// <summary>Why there is no fit.</summary>
public enum NotCalibratedReason
{
    /// <summary>A ticket's axle load does not exceed the unsprung mass.</summary>
    LightTicket,

    /// <summary>A ticket's pressure lies outside -5 to 1600 kPa, or its axle load above 100 t.</summary>
    ImplausibleTicket,

    /// <summary>More than <see cref="CircuitCalibration.MostTickets"/> tickets.</summary>
    TooManyTickets,

    /// <summary>Handbook and tickets together say that load falls as pressure rises.</summary>
    GainNotPositive,
}

/// <summary>From handbook and tickets to a <see cref="CircuitFit"/>.</summary>
public static class CircuitCalibration
{
    /// <summary>The most tickets taken for one circuit: far above use, so that cost stays bounded.</summary>
    public const int MostTickets = 500;

    /// <summary>
    /// Fits by Bayesian weighted least squares: 0, 1, 2 or 20 tickets give an honest interval. The tickets may lie at one pressure: the
    /// handbook then gives the slope. <paramref name="unsprung"/> is the unsprung mass of the reference axle, the same that is later added to
    /// get axle loads (its error cancels). Throws <see cref="ArgumentOutOfRangeException"/> for an unsprung mass below zero.
    /// </summary>
    public static CalibrationOutcome Fit(HandbookPrior prior, ImmutableArray<Ticket> tickets, Mass unsprung, string version)
    {
        if (Refusal(tickets, unsprung) is { } refusal) return refusal;
        var line = LinePosterior.Of(prior, WeighingRows.Gather(tickets, unsprung));
        return line.Gain > 0
            ? new Calibrated(Describe(line, tickets, version))
            : new NotCalibrated(NotCalibratedReason.GainNotPositive, Text(
                $"Handbook and tickets together give {line.Gain:0.###} kg per kPa. Load must rise with pressure: look for exchanged rows."));
    }

    internal static NotCalibrated? Refusal(ImmutableArray<Ticket> tickets, Mass unsprung)
    {
        Guard.NotNegative(unsprung.Kilograms, nameof(unsprung));
        if (tickets.Length > MostTickets)
            return new(NotCalibratedReason.TooManyTickets, Text($"{tickets.Length} tickets for one circuit. At most {MostTickets} are taken."));
        foreach (var ticket in tickets)
            if (Refusal(ticket, unsprung) is { } refusal) return refusal;
        return null;
    }

    private static NotCalibrated? Refusal(Ticket ticket, Mass unsprung)
    {
        if (ticket.Pressure.Kilopascals is < -5 or > 1600 || ticket.AxleLoad.Kilograms > 100_000)
            return new(NotCalibratedReason.ImplausibleTicket, Text(
                $"Ticket {ticket.Weighing} has {ticket.Pressure.Kilopascals:0.#} kPa and {ticket.AxleLoad.Kilograms:0.#} kg. Right would be -5 to 1600 kPa and at most 100000 kg."));
        return ticket.AxleLoad > unsprung ? null : new(NotCalibratedReason.LightTicket, Text(
            $"Ticket {ticket.Weighing} has an axle load of {ticket.AxleLoad.Kilograms:0.#} kg. Right would be more than the unsprung mass of {unsprung.Kilograms:0.#} kg."));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static CircuitFit Describe(LinePosterior line, ImmutableArray<Ticket> tickets, string version) => new()
    {
        OffsetKilograms = line.Offset,
        KilogramsPerKilopascal = line.Gain,
        OffsetVariance = line.OffsetVariance,
        GainVariance = line.GainVariance,
        Covariance = line.Covariance,
        ResidualKilograms = Math.Sqrt(line.ResidualVariance),
        DegreesOfFreedom = line.DegreesOfFreedom,
        Version = version,
        Tickets = tickets.Length,
        LeastPressure = tickets.Length == 0 ? null : tickets.Min(ticket => ticket.Pressure.Kilopascals),
        GreatestPressure = tickets.Length == 0 ? null : tickets.Max(ticket => ticket.Pressure.Kilopascals),
    };
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Calibrating;

/// <summary>One calibration of one circuit with everything that a person wants to see before accepting it.</summary>
internal sealed record CalibrationSheet
{
    /// <summary><c>null</c> where neither tickets nor a vehicle name it.</summary>
    public required CircuitId? Circuit { get; init; }

    public required CircuitSetup Setup { get; init; }

    public HandbookPrior Handbook => Setup.Handbook;

    public Mass Unsprung => Setup.Unsprung;

    public Mass TypicalAxleLoad => Setup.TypicalAxleLoad;

    public required ImmutableArray<Ticket> Tickets { get; init; }

    /// <summary>Weighings of the circuit that the technician left out.</summary>
    public required ImmutableArray<string> LeftOut { get; init; }

    /// <summary>Widened by its age where a moment was asked for.</summary>
    public required CircuitFit Fit { get; init; }

    public required Moment? At { get; init; }

    public required TicketScreening Screening { get; init; }

    public IEnumerable<TicketCheck> Suspicious => Screening.Checks.Where(check => check.Suspicion != TicketSuspicion.None);

    /// <summary>The fit at 40, 70 and 100 % of the typical axle load, where test loads are usually set.</summary>
    public IEnumerable<LoadLevel> Levels => from share in (double[])[0.4, 0.7, 1.0]
                                            let axle = share * TypicalAxleLoad.Kilograms
                                            let pressure = (axle - Unsprung.Kilograms - Fit.OffsetKilograms) / Fit.KilogramsPerKilopascal
                                            select new LoadLevel(share, axle, pressure, Fit.IntervalAt(pressure), Fit.ReadingIntervalAt(pressure));
}

/// <summary>The fit at one axle load.</summary>
/// <param name="Share">Of the typical axle load.</param>
/// <param name="AxleKilograms">Axle load, unsprung mass included.</param>
/// <param name="Kilopascals">Pressure that the fit gives for it.</param>
/// <param name="Line">Interval of the line there, sprung load.</param>
/// <param name="Reading">Interval of one settled reading there, sprung load.</param>
internal sealed record LoadLevel(double Share, double AxleKilograms, double Kilopascals, LoadInterval Line, LoadInterval Reading);

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>Tickets looked at one by one: which of them does not belong.</summary>
public sealed record TicketScreening
{
    /// <summary>From this many tickets a plain line is fitted beside the fit with the handbook.</summary>
    public const int PlainLineFrom = 4;

    /// <summary>Every ticket in the order given.</summary>
    public required ImmutableArray<TicketCheck> Checks { get; init; }

    /// <summary>
    /// Plain least squares of sprung load against pressure, without handbook and without weights; <c>null</c> below four tickets,
    /// <see cref="NoLine"/> when the tickets do not give one.
    /// </summary>
    public required LineFitOutcome? PlainLine { get; init; }

    /// <summary>
    /// Screens the tickets of a fit that was made from the same handbook, tickets and unsprung mass. Each ticket is predicted from the handbook
    /// and the other weighings; the one that departs most is set aside if it departs by more than the bound, and the rest are looked at
    /// again, so that one bad ticket does not throw suspicion on its neighbours. Nothing is removed from the fit: that is the technician's act.
    /// </summary>
    public static TicketScreening Of(CircuitFit fit, HandbookPrior prior, ImmutableArray<Ticket> tickets, Mass unsprung)
    {
        if (fit.Tickets != tickets.Length) throw new ArgumentException("The fit was made from other tickets.", nameof(tickets));
        var plain = tickets.Length < PlainLineFrom ? null : LineFit.WithIntercept(
            [.. tickets.Select(ticket => ticket.Pressure.Kilopascals)], [.. tickets.Select(ticket => ticket.SprungLoad(unsprung).Kilograms)]);
        var departures = SetAside(prior, tickets, unsprung);
        return new()
        {
            PlainLine = plain,
            Checks = [.. tickets.Select((ticket, i) => Check(fit, ticket, ticket.SprungLoad(unsprung).Kilograms, (departures[i], plain, i)))],
        };
    }

    private readonly record struct Departure(double Kilograms, double Deviation, double Bound, int PredictedFrom)
    {
        public double Deviations => Kilograms / Deviation;

        public bool BeyondBound => Math.Abs(Deviations) > Bound;
    }

    private static Departure[] SetAside(HandbookPrior prior, ImmutableArray<Ticket> tickets, Mass unsprung)
    {
        var departures = new Departure[tickets.Length];
        var trusted = Enumerable.Range(0, tickets.Length).ToList();
        while (trusted.Count > 0)
        {
            foreach (var i in trusted) departures[i] = Predict(prior, tickets, (i, trusted), unsprung);
            var worst = trusted.MaxBy(i => Math.Abs(departures[i].Deviations) / departures[i].Bound);
            if (!departures[worst].BeyondBound) break;
            trusted.Remove(worst);
        }
        return departures;
    }

    /// <summary>Other tickets of the same weighing share its error and are left out with it.</summary>
    private static Departure Predict(HandbookPrior prior, ImmutableArray<Ticket> tickets, (int Index, List<int> Trusted) which, Mass unsprung)
    {
        var ticket = tickets[which.Index];
        Ticket[] others = [.. which.Trusted.Select(i => tickets[i]).Where(other => other.Weighing != ticket.Weighing)];
        var line = LinePosterior.Of(prior, WeighingRows.Gather(others, unsprung));
        double pressure = ticket.Pressure.Kilopascals, own = ticket.Deviation.Kilograms;
        var variance = line.VarianceAt(pressure) + line.ResidualVariance + own * own;
        return new(ticket.SprungLoad(unsprung).Kilograms - line.At(pressure), Math.Sqrt(variance), Bound(line, tickets.Length), others.Length);
    }

    /// <summary>Three standard deviations, or Bonferroni's bound at 5 % where many tickets are tested at once.</summary>
    private static double Bound(LinePosterior line, int tests)
    {
        var nu = line.DegreesOfFreedom;
        return Math.Max(3, StudentT.Quantile(1 - 0.05 / (2 * tests), nu) * Math.Sqrt((nu - 2) / nu));
    }

    private static TicketCheck Check(
        CircuitFit fit, Ticket ticket, double load, (Departure Departure, LineFitOutcome? Plain, int Index) found)
    {
        double pressure = ticket.Pressure.Kilopascals, own = ticket.Deviation.Kilograms;
        var line = found.Plain as FittedLine;
        var studentised = line?.Points[found.Index].Studentised;
        var suspicion = found.Departure.BeyondBound ? TicketSuspicion.HandbookAndOthers : TicketSuspicion.None;
        // Three tickets that happen to lie on a line make any fourth an outlier of it, however near: so it must also be off by something.
        if (line is not null && Math.Abs(studentised ?? 0) > line.OutlierBound() && Math.Abs(found.Departure.Deviations) > 2)
            suspicion |= TicketSuspicion.TicketsAlone;
        return new()
        {
            Ticket = ticket,
            ResidualKilograms = load - fit.At(pressure),
            Leverage = Math.Min(1, fit.VarianceAt(pressure) / (fit.ResidualKilograms * fit.ResidualKilograms + own * own)),
            DepartureKilograms = found.Departure.Kilograms,
            Departures = found.Departure.Deviations,
            PredictedFrom = found.Departure.PredictedFrom,
            Studentised = studentised,
            Suspicion = suspicion,
        };
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>A calibration that somebody accepted, from a moment on. Never changed: a correction is a further version. Findings cite its id.</summary>
public sealed record CalibrationVersion
{
    /// <summary>A Julian year.</summary>
    private const double SecondsPerYear = 365.25 * 86400;

    /// <summary>The circuit.</summary>
    public required CircuitId Circuit { get; init; }

    /// <summary>From when on it holds; may lie in the past.</summary>
    public required Moment ValidFrom { get; init; }

    /// <summary>What a pressure means. Its version is this version's id.</summary>
    public required CircuitFit Fit { get; init; }

    /// <summary>The tickets behind the fit; empty for the handbook alone.</summary>
    public required ImmutableArray<Ticket> Tickets { get; init; }

    /// <summary>Who accepted it and why, in words.</summary>
    public required string AcceptedBy { get; init; }

    /// <summary>The id that findings cite.</summary>
    public string Id => Fit.Version;

    /// <summary>
    /// The middle of the tickets in time, from which a steady drift counts, since the line is their average; <c>null</c> for the handbook.
    /// </summary>
    public Moment? CentreOfTickets => Centre(Tickets);

    /// <summary>
    /// The fit widened by its age. The handbook does not age: its spread already covers worn vehicles. Before the middle of the tickets the fit
    /// is as wide as it was made.
    /// </summary>
    public CircuitFit FitAt(Moment at) => Aged(Fit, Tickets, at);

    /// <summary>What findings call a fit from these tickets: day of the last one (UTC) and their number, or <c>handbook</c>.</summary>
    public static string NameOf(ImmutableArray<Ticket> tickets) => tickets.IsEmpty
        ? "handbook"
        : FormattableString.Invariant($"{tickets.Max(ticket => ticket.At).ToString()[..10]}/{tickets.Length}");

    /// <summary>A fit from these tickets, widened by their age at a moment. See <see cref="FitAt"/>.</summary>
    public static CircuitFit Aged(CircuitFit fit, ImmutableArray<Ticket> tickets, Moment at) =>
        Centre(tickets) is { } centre ? fit.Aged(Math.Max(0, at.SecondsSince(centre)) / SecondsPerYear) : fit;

    private static Moment? Centre(ImmutableArray<Ticket> tickets) => tickets.IsEmpty
        ? null
        : tickets[0].At.Plus(tickets.Average(ticket => ticket.At.SecondsSince(tickets[0].At)));
}

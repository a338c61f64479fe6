using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Calibration;

/// <summary>What came of a file of tickets: <see cref="TicketsRead"/> or <see cref="TicketsRefused"/>, never half of it.</summary>
public abstract record TicketsOutcome
{
    private protected TicketsOutcome()
    {
    }
}

/// <summary>Every row is a ticket.</summary>
/// <param name="Tickets">In the order of the file.</param>
public sealed record TicketsRead(ImmutableArray<CircuitTicket> Tickets) : TicketsOutcome;

/// <summary>At least one field is wrong; all of them are listed at once.</summary>
/// <param name="Problems">In the order of the file.</param>
public sealed record TicketsRefused(ImmutableArray<TicketProblem> Problems) : TicketsOutcome;

/// <summary>A ticket and the circuit it belongs to.</summary>
/// <param name="Circuit">Vehicle and sensor.</param>
/// <param name="Ticket">The weighing.</param>
public sealed record CircuitTicket(CircuitId Circuit, Ticket Ticket);

/// <summary>One thing wrong in a file of tickets.</summary>
/// <param name="Line">Line of the file, the header is 1.</param>
/// <param name="Field">Column name, or <c>file</c> or <c>header</c>.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Right">What would be right.</param>
public sealed record TicketProblem(int Line, string Field, string Value, string Right)
{
    /// <summary>What stands there, cut and made printable: a file of another kind must not write to a terminal as it likes.</summary>
    public string Value { get; } = Excerpt.Of(Value);

    /// <summary>A sentence for a person.</summary>
    public override string ToString() => Value.Length == 0
        ? string.Create(CultureInfo.InvariantCulture, $"Line {Line}, {Field}: empty. {Right}")
        : string.Create(CultureInfo.InvariantCulture, $"Line {Line}, {Field}: '{Value}' is not right. {Right}");
}

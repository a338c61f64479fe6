namespace AxleTelemetry.Domain.Calibration;

/// <summary>What speaks against a ticket; nothing, one or both.</summary>
[Flags]
public enum TicketSuspicion : byte
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>It departs by more than three standard deviations from what handbook and the other weighings predict for it.</summary>
    HandbookAndOthers = 1,

    /// <summary>
    /// From four tickets: an outlier of the plain line through all tickets, Bonferroni's bound at 5 %, that also departs by two standard
    /// deviations from what handbook and the other weighings predict.
    /// </summary>
    TicketsAlone = 2,
}

/// <summary>A ticket against the fit.</summary>
public sealed record TicketCheck
{
    /// <summary>The ticket.</summary>
    public required Ticket Ticket { get; init; }

    /// <summary>Sprung load of the ticket less the fitted line, kg.</summary>
    public required double ResidualKilograms { get; init; }

    /// <summary>Part of its own fitted value that the ticket decides, 0 to 1; the rest comes from the handbook and the other tickets.</summary>
    public required double Leverage { get; init; }

    /// <summary>Sprung load of the ticket less the prediction from the handbook and the other, unsuspected weighings, kg.</summary>
    public required double DepartureKilograms { get; init; }

    /// <summary>The departure in standard deviations of that prediction, the ticket's own error included.</summary>
    public required double Departures { get; init; }

    /// <summary>Unsuspected tickets of other weighings behind that prediction; 0 = the handbook alone.</summary>
    public required int PredictedFrom { get; init; }

    /// <summary>Externally studentised residual of the plain line; <c>null</c> below four tickets or where it has no value.</summary>
    public required double? Studentised { get; init; }

    /// <summary>What speaks against it.</summary>
    public required TicketSuspicion Suspicion { get; init; }
}

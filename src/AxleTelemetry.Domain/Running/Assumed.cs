namespace AxleTelemetry.Domain.Running;

/// <summary>A number that nobody measured on this vehicle, and why it is believed.</summary>
/// <param name="Value">The value, in <paramref name="Unit"/>.</param>
/// <param name="Sd">Standard deviation, same unit; zero where it is taken as it stands.</param>
/// <param name="Unit">Its unit; <c>money</c> stands for the currency set.</param>
/// <param name="Source">Where it is from.</param>
/// <param name="Status">How far that may be trusted.</param>
public sealed record Assumed(double Value, double Sd, string Unit, string Source, AssumedStatus Status);

/// <summary>How far the source of a number may be trusted.</summary>
public enum AssumedStatus
{
    /// <summary>Published, and seen there.</summary>
    Published,

    /// <summary>Seen in a secondary or undated copy.</summary>
    WeakCopy,

    /// <summary>Not seen: from memory.</summary>
    FromMemory,

    /// <summary>A fact of the trade without a source.</summary>
    CommonPractice,

    /// <summary>A stand-in of the right size: the owner has to set it before sums of money mean anything.</summary>
    OwnerMustSet,

    /// <summary>The owner's own number.</summary>
    Owners,
}

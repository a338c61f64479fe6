using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>All accepted calibrations of one circuit, in order of acceptance. Immutable: accepting gives a new history.</summary>
public sealed record CalibrationHistory
{
    private CalibrationHistory(CircuitId circuit, ImmutableArray<CalibrationVersion> versions) => (Circuit, Versions) = (circuit, versions);

    /// <summary>The circuit.</summary>
    public CircuitId Circuit { get; }

    /// <summary>Versions in order of acceptance.</summary>
    public ImmutableArray<CalibrationVersion> Versions { get; }

    /// <summary>A history without a version.</summary>
    public static CalibrationHistory Of(CircuitId circuit) => new(circuit, []);

    /// <summary>
    /// The history with one more version. Throws <see cref="ArgumentException"/> for a version of another circuit or an id already used: both
    /// would make a citation ambiguous.
    /// </summary>
    public CalibrationHistory Accept(CalibrationVersion version)
    {
        if (version.Circuit != Circuit)
            throw new ArgumentException($"Version {version.Id} belongs to {version.Circuit}, not to {Circuit}.", nameof(version));
        if (Versions.Any(earlier => earlier.Id == version.Id))
            throw new ArgumentException($"Version {version.Id} is already in the history of {Circuit}.", nameof(version));
        return new(Circuit, Versions.Add(version));
    }

    /// <summary>
    /// The version in force at a moment: the latest validity not after it, of equal validities the one accepted last, so that a correction
    /// with the same start replaces what it corrects. <c>null</c> before the first: only the handbook is known then.
    /// </summary>
    public CalibrationVersion? At(Moment moment)
    {
        CalibrationVersion? valid = null;
        foreach (var version in Versions)
            if (version.ValidFrom <= moment && (valid is null || version.ValidFrom >= valid.ValidFrom)) valid = version;
        return valid;
    }
}

namespace AxleTelemetry.Domain.Readings;

/// <summary>All that a vehicle says of a liftable axle at a moment, in the one number of a <see cref="Reading"/>.</summary>
/// <param name="Report">Where the axle is.</param>
/// <param name="By">Who or what put it there.</param>
/// <param name="Reason">Why it is to stay there.</param>
public readonly record struct LiftWord(LiftReport Report, LiftBy By = LiftBy.Unsaid, LiftReason Reason = LiftReason.Unsaid)
{
    private const int BySteps = 8, ReasonSteps = 4;

    /// <summary>The number; of a report without more it is that of its <see cref="LiftReport"/>.</summary>
    public double ToValue() => (int)Report + BySteps * ((int)By + ReasonSteps * (int)Reason);

    /// <summary>The same number with who and why.</summary>
    public static double With(double value, LiftBy by, LiftReason reason) => (Of(value) with { By = by, Reason = reason }).ToValue();

    /// <summary>From the number of a reading.</summary>
    public static LiftWord Of(double value)
    {
        var (rest, report) = Math.DivRem((int)value, BySteps);
        var (reason, by) = Math.DivRem(rest, ReasonSteps);
        return new LiftWord((LiftReport)report, (LiftBy)by, (LiftReason)reason);
    }
}

/// <summary>Who or what moved an axle.</summary>
public enum LiftBy : byte
{
    /// <summary>Not said, or said in a word that the contract does not know.</summary>
    Unsaid,

    /// <summary>The driver.</summary>
    Driver,

    /// <summary>The lift's own control.</summary>
    Automatic,
}

/// <summary>Why an axle is to stay as it is, though it costs.</summary>
public enum LiftReason : byte
{
    /// <summary>Not said: what was said before still holds.</summary>
    Unsaid,

    /// <summary>There is none, or no more.</summary>
    None,

    /// <summary>The road is slippery, or soft.</summary>
    Grip,

    /// <summary>The ground, a ramp or a ferry's deck asks for it.</summary>
    Clearance,

    /// <summary>Something of the axle is broken or being tried; also on the workshop's word.</summary>
    Workshop,

    /// <summary>Another one.</summary>
    Other,
}

namespace AxleTelemetry.Domain.Planning;

/// <summary>
/// One limit as a function of a payload P and the place x of its centre, all else fixed: g = (perKilogram + perMoment x) P + constant, over when
/// g is greater than zero. Linear in P and P x, so at a place it bounds the payload from above or from below.
/// </summary>
/// <param name="Limit">What it is.</param>
/// <param name="PerKilogram">Change per kg at the origin of the body.</param>
/// <param name="PerMoment">Change per kg m.</param>
/// <param name="Constant">Its value without this payload, kg.</param>
public sealed record BoundLine(PlanLimit Limit, double PerKilogram, double PerMoment, double Constant)
{
    /// <summary>Change per kg of payload at a place.</summary>
    public double SlopeAt(double metres) => PerKilogram + PerMoment * metres;

    /// <summary>The payload at which it is just met, kg; may be below zero, and infinite where no payload at this place changes it.</summary>
    public double At(double metres) => -Constant / SlopeAt(metres);

    /// <summary>By how much it is passed, kg.</summary>
    public double Excess(double kilograms, double metres) => SlopeAt(metres) * kilograms + Constant;

    /// <summary>Place at which both bound the same payload; <c>null</c> where there is none.</summary>
    public double? Meets(BoundLine other)
    {
        var across = Constant * other.PerMoment - other.Constant * PerMoment;
        return across == 0 ? null : (other.Constant * PerKilogram - Constant * other.PerKilogram) / across;
    }

    /// <summary>Place at which it turns from a bound above to one below; <c>null</c> where there is none.</summary>
    public double? Pole => PerMoment == 0 ? null : -PerKilogram / PerMoment;
}

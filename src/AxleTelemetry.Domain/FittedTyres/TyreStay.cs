namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>A tyre at one place.</summary>
/// <param name="Tyre">Which.</param>
/// <param name="At">Where.</param>
/// <param name="From">First day.</param>
/// <param name="Until">The first day on which it is there no more; <c>null</c> while it is.</param>
public sealed record TyreStay(string Tyre, TyrePlace At, DateOnly From, DateOnly? Until)
{
    /// <summary>True where it was there at the end of a day.</summary>
    public bool Holds(DateOnly day) => day >= From && (Until is not { } until || day < until);
}

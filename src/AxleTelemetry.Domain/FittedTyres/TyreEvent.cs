namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>
/// What was done to a tyre on a day. A day belongs to the tyre that is on the axle at its end, so work during it counts from its beginning.
/// </summary>
/// <param name="On">The day.</param>
/// <param name="Tyre">Its id: 1 to 64 of A-Z a-z 0-9 . _ -</param>
public abstract record TyreEvent(DateOnly On, string Tyre)
{
    /// <summary>Put on.</summary>
    public sealed record Fitted(DateOnly On, string Tyre, TyrePlace At) : TyreEvent(On, Tyre);

    /// <summary>Moved from where it was to another place.</summary>
    public sealed record Rotated(DateOnly On, string Tyre, TyrePlace To) : TyreEvent(On, Tyre);

    /// <summary>Taken off.</summary>
    public sealed record Removed(DateOnly On, string Tyre) : TyreEvent(On, Tyre);

    /// <summary>Given a new tread; off the vehicle.</summary>
    public sealed record Retreaded(DateOnly On, string Tyre) : TyreEvent(On, Tyre);
}

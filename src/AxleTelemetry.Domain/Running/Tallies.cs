namespace AxleTelemetry.Domain.Running;

/// <summary>Periods of an account added up.</summary>
public static class Tallies
{
    /// <summary>Both one after the other.</summary>
    public static UnitTally Plus(this in UnitTally a, in UnitTally b) => new()
    {
        Metres = a.Metres + b.Metres,
        Seconds = a.Seconds + b.Seconds,
        KnownMetres = a.KnownMetres + b.KnownMetres,
        CurveMetres = a.CurveMetres + b.CurveMetres,
        OverMetres = a.OverMetres + b.OverMetres,
        CannotTellMetres = a.CannotTellMetres + b.CannotTellMetres,
        GrossMetres = a.GrossMetres + b.GrossMetres,
        GrossSdMetres = a.GrossSdMetres + b.GrossSdMetres,
        Aashto = a.Aashto + b.Aashto,
        FourthPower = a.FourthPower + b.FourthPower,
        AashtoLowered = a.AashtoLowered + b.AashtoLowered,
        Driven = a.Driven + b.Driven,
        Lowered = a.Lowered + b.Lowered,
        Cheapest = a.Cheapest + b.Cheapest,
    };

    /// <summary>Both one after the other.</summary>
    public static AxleTally Plus(this in AxleTally a, in AxleTally b) => new()
    {
        GroundMetres = a.GroundMetres + b.GroundMetres,
        RaisedMetres = a.RaisedMetres + b.RaisedMetres,
        KnownMetres = a.KnownMetres + b.KnownMetres,
        LoadMetres = a.LoadMetres + b.LoadMetres,
        TyreJoules = a.TyreJoules + b.TyreJoules,
        TyreJoulesLowered = a.TyreJoulesLowered + b.TyreJoulesLowered,
        TyreJoulesCheapest = a.TyreJoulesCheapest + b.TyreJoulesCheapest,
        ScrubJoules = a.ScrubJoules + b.ScrubJoules,
        Tread = a.Tread + b.Tread,
        FourthPower = a.FourthPower + b.FourthPower,
        HighSeconds = a.HighSeconds + b.HighSeconds,
        Raises = a.Raises + b.Raises,
        TimedRaises = a.TimedRaises + b.TimedRaises,
        RaiseSeconds = a.RaiseSeconds + b.RaiseSeconds,
        Lowers = a.Lowers + b.Lowers,
        TimedLowers = a.TimedLowers + b.TimedLowers,
        LowerSeconds = a.LowerSeconds + b.LowerSeconds,
        SidesMetres = a.SidesMetres + b.SidesMetres,
        LeftMetres = a.LeftMetres + b.LeftMetres,
        Saved = a.Saved + b.Saved,
        LoweredForNothing = a.LoweredForNothing + b.LoweredForNothing,
        RaisedForNothing = a.RaisedForNothing + b.RaisedForNothing,
    };
}

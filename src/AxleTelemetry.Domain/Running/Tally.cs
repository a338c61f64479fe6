namespace AxleTelemetry.Domain.Running;

/// <summary>What one unit's road adds up to over a period. Plain sums: periods add up, and <c>default</c> is nothing driven.</summary>
public record struct UnitTally
{
    /// <summary>Rolled, m.</summary>
    public double Metres;

    /// <summary>Rolling time, s.</summary>
    public double Seconds;

    /// <summary>Of it with loads known: only there is work reckoned, m.</summary>
    public double KnownMetres;

    /// <summary>Of that with curvature known: only there is scrub reckoned, m.</summary>
    public double CurveMetres;

    /// <summary>With a limit passed by the best estimate, m.</summary>
    public double OverMetres;

    /// <summary>With a limit of which nobody can tell whether it is passed, m.</summary>
    public double CannotTellMetres;

    /// <summary>All that stood on the road, kg m.</summary>
    public double GrossMetres;

    /// <summary>Its standard deviation, kg m: common to the metres, so it is summed as it is.</summary>
    public double GrossSdMetres;

    /// <summary>Wear by the full AASHTO equation, standard axles times m.</summary>
    public double Aashto;

    /// <summary>Wear by the plain fourth power, standard axles times m.</summary>
    public double FourthPower;

    /// <summary>The same, had every axle been lowered.</summary>
    public double AashtoLowered;

    /// <summary>Work as driven.</summary>
    public RoadWork Driven;

    /// <summary>Work, had every axle been lowered, over the same road.</summary>
    public RoadWork Lowered;

    /// <summary>Work in the cheapest configuration that was permitted, over the same road.</summary>
    public RoadWork Cheapest;
}

/// <summary>What one axle went through over a period. Plain sums; <c>default</c> is nothing.</summary>
public record struct AxleTally
{
    /// <summary>On the road, m.</summary>
    public double GroundMetres;

    /// <summary>Raised while the vehicle rolled, m.</summary>
    public double RaisedMetres;

    /// <summary>On the road with its load known, m.</summary>
    public double KnownMetres;

    /// <summary>Load times distance, kg m.</summary>
    public double LoadMetres;

    /// <summary>Rolling resistance of its tyres, J.</summary>
    public double TyreJoules;

    /// <summary>The same, had every axle been lowered, J.</summary>
    public double TyreJoulesLowered;

    /// <summary>The same in the cheapest permitted configuration, J.</summary>
    public double TyreJoulesCheapest;

    /// <summary>Slip in bends, J.</summary>
    public double ScrubJoules;

    /// <summary>Tread energy, MN m.</summary>
    public double Tread;

    /// <summary>Wear of the road by the fourth power, standard axles times m.</summary>
    public double FourthPower;

    /// <summary>Rolling with more than 95 % of the rating of axle or tyres, s.</summary>
    public double HighSeconds;

    /// <summary>Times it was raised.</summary>
    public double Raises;

    /// <summary>Of those with the time it took known.</summary>
    public double TimedRaises;

    /// <summary>Time they took, s.</summary>
    public double RaiseSeconds;

    /// <summary>Times it was lowered.</summary>
    public double Lowers;

    /// <summary>Of those with the time it took known.</summary>
    public double TimedLowers;

    /// <summary>Time they took, s.</summary>
    public double LowerSeconds;

    /// <summary>With the loads of both its sides known, m.</summary>
    public double SidesMetres;

    /// <summary>Left less right, as a fraction of both, times that distance, m: positive is heavy on the left.</summary>
    public double LeftMetres;

    /// <summary>Saved by this axle being raised, against lowering it alone; negative where that was dearer. Its metres are those it was raised for.</summary>
    public RoadWork Saved;

    /// <summary>Wasted by running with it lowered although raised was permitted and cheaper.</summary>
    public RoadWork LoweredForNothing;

    /// <summary>Wasted (negative: saved at the expense of a limit) by running with it raised although only lowered was permitted, or lowered was cheaper.</summary>
    public RoadWork RaisedForNothing;
}

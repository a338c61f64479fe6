namespace AxleTelemetry.Domain.Running;

/// <summary>What work costs at the middle of every assumption, money per unit: for comparing ways of driving, not for an account, which carries the spread.</summary>
/// <param name="PerTyreJoule">Of rolling resistance.</param>
/// <param name="PerTurningMetre">Of an axle that turns for a metre.</param>
/// <param name="PerScrubJoule">Of slip in bends: fuel alone, what it wears is tread.</param>
/// <param name="PerTread">Of tread energy.</param>
public readonly record struct WorkPrice(double PerTyreJoule, double PerTurningMetre, double PerScrubJoule, double PerTread)
{
    /// <summary>By given assumptions.</summary>
    public static WorkPrice By(Assumptions assumptions) => By(assumptions, a => a.Money);

    /// <summary>The same with litres of fuel for money.</summary>
    public static WorkPrice OfFuel(Assumptions assumptions) => By(assumptions, a => a.Litres);

    /// <summary>Money.</summary>
    public double Of(in RoadWork work) =>
        work.TyreJoules * PerTyreJoule + work.TurningMetres * PerTurningMetre + work.ScrubJoules * PerScrubJoule + work.Tread * PerTread;

    private static WorkPrice By(Assumptions assumptions, Func<Amounts, Loads.Estimated> of)
    {
        return new WorkPrice(Of(new RoadWork { TyreJoules = 1 }), Of(new RoadWork { TurningMetres = 1 }), Of(new RoadWork { ScrubJoules = 1 }), Of(new RoadWork { Tread = 1 }));

        double Of(RoadWork unit) => of(Valuation.Of(unit, assumptions).All).Mean;
    }
}

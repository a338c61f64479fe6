using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Findings;

/// <summary>One limit judged in one configuration.</summary>
/// <param name="Margin">The limit.</param>
/// <param name="Excess">By how much it is passed, kg; negative is room to spare.</param>
/// <param name="Scale">The limit in kg: itself for a mass, the share of the present mass for a share.</param>
public readonly record struct Verdict(Margin Margin, Estimated Excess, double Scale)
{
    /// <summary>Standard deviations above the limit.</summary>
    public double Deviations => Levels.Deviations(Excess.Mean, Excess.Sd);

    /// <summary>How sure it is that the limit is passed.</summary>
    public Level Level => Levels.Of(Deviations);

    /// <summary>True where the interval is too wide for its limit and holds it: only a sure overload is told then.</summary>
    public bool CannotTell => Excess.HalfWidth > Levels.WidestToTell * Scale && Math.Abs(Deviations) < Levels.SurelyFrom;

    /// <summary>True where the limit counts when configurations and remedies are chosen; a rule of the house does not.</summary>
    public bool Binds => Margin.Binds;
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Domain.Telling;

/// <summary>How soon somebody should act.</summary>
public enum AlertPriority : byte
{
    /// <summary>Look at it when there is time.</summary>
    Low,

    /// <summary>Look at it soon.</summary>
    Medium,

    /// <summary>Call now.</summary>
    High,
}

/// <summary>
/// Which findings deserve an alert, and how urgent it is.
/// <list type="table">
/// <item><term>limit of law or maker, surely over</term><description>high</description></item>
/// <item><term>limit of law or maker, likely over</term><description>medium</description></item>
/// <item><term>automatic lowering did not act</term><description>medium</description></item>
/// <item><term>rule of this house; axle down for nothing; instruments; trailer without description; silent vehicle</term><description>low</description></item>
/// <item><term>cannot tell; moving off; carried; not at driving height</term><description>a standing note, no alert</description></item>
/// </list>
/// </summary>
public static class AlertPolicy
{
    /// <summary>Priority of what is found; <c>null</c> where it is a standing note and no alert.</summary>
    public static AlertPriority? PriorityOf(AlertSubject subject, MarginStanding standing, Level level) => subject.Finding switch
    {
        null => AlertPriority.Low,
        { } key => PriorityOf(key.Kind, standing, level),
    };

    /// <summary>True where a known overload obliges: it was surely over a limit of law or maker.</summary>
    public static bool Obliges(AlertSubject subject, MarginStanding standing, Level highest) =>
        subject.Finding is { Kind: FindingKind.Overload } && standing != MarginStanding.HouseRule && highest == Level.Surely;

    private static AlertPriority? PriorityOf(FindingKind kind, MarginStanding standing, Level level) => kind switch
    {
        FindingKind.Overload when level < Level.Likely => null,
        FindingKind.Overload when standing == MarginStanding.HouseRule => AlertPriority.Low,
        FindingKind.Overload => level == Level.Surely ? AlertPriority.High : AlertPriority.Medium,
        FindingKind.AutomaticLoweringDidNotAct or FindingKind.OverAcrossBorder or FindingKind.TrailerClaimedTwice => AlertPriority.Medium,
        FindingKind.LoweredForNothing or FindingKind.RaisedForNothing or FindingKind.LiftDisputed or FindingKind.PressureStep or FindingKind.SensorDrifts
            or FindingKind.SensorSilent or FindingKind.SensorStill or FindingKind.AxleRelieved or FindingKind.SplitDeparts
            or FindingKind.NotPossible or FindingKind.PayloadImplausible or FindingKind.TrailerUndescribed or FindingKind.TrailerUnclaimed => AlertPriority.Low,
        FindingKind.CountryUndecided or FindingKind.CannotTell or FindingKind.MovingOffAid or FindingKind.SuspensionOff or FindingKind.Carried => null,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown finding."),
    };
}

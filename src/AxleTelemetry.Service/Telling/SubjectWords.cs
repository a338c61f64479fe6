using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Telling;

/// <summary>What an alert or an episode is about, for a column, and what holds as a sentence where the finding itself is not at hand.</summary>
internal sealed class SubjectWords(PartNames names)
{
    /// <summary><c>axle 2 (drive) over its limit</c>, <c>sensor tag silent</c>, <c>not heard</c>.</summary>
    public string Of(AlertSubject subject) => subject.Finding is { } key ? Of(key) : "not heard";

    /// <summary>The same for a finding.</summary>
    public string Of(FindingKey key) => key.Kind switch
    {
        FindingKind.Overload when key.Margin.Kind.IsLeast() => $"{names.Limited(key.Margin)} below its limit",
        FindingKind.Overload when key.Margin.Kind == MarginKind.AxleRating => $"{names.Axle(key.Margin.Element)} over its rating",
        FindingKind.Overload when key.Margin.Kind == MarginKind.TyreRating => $"tyres of {names.Axle(key.Margin.Element)} over what they may carry",
        FindingKind.Overload => $"{names.Limited(key.Margin)} over its limit",
        FindingKind.CannotTell => $"{names.Limited(key.Margin)}: cannot tell",
        FindingKind.LoweredForNothing => $"{names.Axle(key.Element)} down for nothing",
        FindingKind.OverAcrossBorder => "would be over across the border",
        FindingKind.TrailerClaimedTwice => "trailer claimed by two vehicles",
        FindingKind.TrailerUndescribed => $"trailer {names.Vehicle(key.Element)} without description",
        FindingKind.TrailerUnclaimed => "trailer that no vehicle says it pulls",
        FindingKind.CountryUndecided => "country undecided",
        FindingKind.RaisedForNothing => $"{names.Axle(key.Element)} raised where it harms",
        FindingKind.AutomaticLoweringDidNotAct => $"automatic lowering of {names.Axle(key.Element)} did not act",
        FindingKind.MovingOffAid => $"moving off with {names.Axle(key.Element)} relieved or raised",
        FindingKind.LiftDisputed => $"lift switch of {names.Axle(key.Element)} disputed",
        FindingKind.PressureStep => $"{names.Sensor(key.Element)} stepped",
        FindingKind.SensorDrifts => $"{names.Sensor(key.Element)} drifts",
        FindingKind.SensorSilent => $"{names.Sensor(key.Element)} silent",
        FindingKind.SensorStill => $"{names.Sensor(key.Element)} still",
        FindingKind.AxleRelieved => $"{names.Axle(key.Element)} relieved though said to carry",
        FindingKind.SplitDeparts => $"axles of {names.Vehicle(key.Element)} share otherwise than declared",
        FindingKind.SuspensionOff => $"suspension of {names.Vehicle(key.Element)} not at driving height",
        FindingKind.Carried => "carried",
        FindingKind.NotPossible => "report not possible",
        FindingKind.PayloadImplausible => $"payload of {names.Vehicle(key.Element)} implausible",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };

    /// <summary>What holds, with its figures where there are any.</summary>
    public string Sentence(FindingKey key, Level level, AlertFigures? figures)
    {
        if (key.Kind == FindingKind.TrailerUnclaimed) return Sentences.Unclaimed;
        if (key.Kind == FindingKind.Overload && figures is { } known && IsMass(key.Margin) && names.IsOf(key.Margin))
            return new Sentences(names.Combination!).Over(Verdict(key.Margin, known), level);
        return IsOf(key) ? new Sentences(names.Combination!).Of(key, level, new FindingDetail.None()) : $"{Names.Begin(Of(key))}.";
    }

    /// <summary>True where what was found is about parts of these vehicles.</summary>
    public bool IsOf(FindingKey key) => names.Combination is { } combination && key.Kind switch
    {
        FindingKind.Overload or FindingKind.CannotTell => names.IsOf(key.Margin),
        FindingKind.LoweredForNothing or FindingKind.RaisedForNothing or FindingKind.AutomaticLoweringDidNotAct or FindingKind.MovingOffAid or FindingKind.LiftDisputed or FindingKind.AxleRelieved =>
            key.Element < combination.Axles.Length,
        FindingKind.PressureStep or FindingKind.SensorDrifts or FindingKind.SensorSilent or FindingKind.SensorStill => key.Element < combination.Sensors.Length,
        FindingKind.SplitDeparts or FindingKind.SuspensionOff or FindingKind.PayloadImplausible => key.Element < combination.Bodies.Length,
        FindingKind.TrailerUndescribed => key.Element < combination.Bodies.Length && combination.Vehicles[key.Element].IsStandIn,
        FindingKind.Carried or FindingKind.NotPossible or FindingKind.OverAcrossBorder or FindingKind.CountryUndecided or FindingKind.TrailerClaimedTwice => true,
        FindingKind.TrailerUnclaimed => false,
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };

    // A share in kilograms says nothing to people, and a part of a group is named by axles that figures do not hold.
    private static bool IsMass(MarginKey key) => key.Kind switch
    {
        MarginKind.DrivingShare or MarginKind.SteeringShare => false,
        MarginKind.Group => key.IsWholeGroup,
        _ => true,
    };

    private static Verdict Verdict(MarginKey key, AlertFigures figures) => new(
        new Margin
        {
            Key = key,
            Weights = [],
            Constant = key.Kind == MarginKind.CouplingLeast ? -figures.Scale : figures.Scale,
            Limit = figures.Scale,
            Source = new LimitSource("", "", DateOnly.MinValue, LimitStatus.VehiclePapers),
            Standing = MarginStanding.Law,
        },
        new Estimated(figures.Excess, figures.Sd),
        figures.Scale);
}

using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>One line for each thing a lane says, rounded to 0.1 t so that it holds still, with the truth beside it.</summary>
internal sealed class FindingLine(Lane lane, Moment start)
{
    private readonly Combination _combination = lane.Setup.Combination;

    public string? Of(LaneOutput output, Truth truth) => output switch
    {
        LaneOutput.Episode episode => $"{Clock(episode.At)} {Change(episode)}{Detail(episode.Detail, truth)}",
        LaneOutput.Provisional told => $"{Clock(told.At)} while standing {Word(told.Level)}: {Name(told.Key)}{Detail(told.Detail, truth)}",
        LaneOutput.LoadBegan began => $"{Clock(began.At)} a load began at {Clock(began.Since)}: {Payload(truth)}",
        LaneOutput.LoadGoesOn on => $"{Clock(on.At)} the load goes on: {Payload(truth)}",
        LaneOutput.Configured configured => $"{Clock(configured.At)} axles: {Axles(configured.Configuration)}",
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Unknown output."),
    };

    /// <summary>What is believed in the end.</summary>
    public string End(Moment at, Truth truth) => lane.State.Payload.Readings == 0
        ? $"{Clock(at)} end: no settled reading of this load"
        : $"{Clock(at)} end: {Payload(truth)}, {Plural(lane.State.Payload.Readings, "settled reading")}";

    private string Payload(Truth truth)
    {
        var parts = _combination.Bodies.Where(b => b.StateIndex >= 0).Select(b =>
            $"payload {Tonnes(lane.State.Payload.State[b.StateIndex])} t (in truth {Tonnes(truth.Payload(b.StateIndex))})");
        return string.Join(", ", parts);
    }

    private string Change(LaneOutput.Episode episode)
    {
        var name = Name(episode.Key);
        var over = episode.Key.Kind == FindingKind.Overload;
        return episode.Change switch
        {
            EpisodeChange.Opened when over => $"{Word(episode.Level)} over: {name}",
            EpisodeChange.Rose or EpisodeChange.Fell => $"now {Word(episode.Level)} over: {name}",
            EpisodeChange.Opened => name,
            EpisodeChange.Closed when over => $"no longer over since {Clock(episode.Since)}: {name}",
            EpisodeChange.Closed => $"ended, since {Clock(episode.Since)}: {name}",
            _ => throw new ArgumentOutOfRangeException(nameof(episode), episode.Change, "Nothing changed."),
        };
    }

    private string Detail(FindingDetail detail, Truth truth) => detail switch
    {
        FindingDetail.None => "",
        FindingDetail.Excess excess => Excess(excess, truth),
        FindingDetail.Idle idle => $"; raise {Keys(idle.Raised)}, then closest: {Margin(idle.Tightest.Margin.Key)} {Signed(idle.Tightest.Excess.Mean)} t",
        FindingDetail.DidNotAct why =>
            $"; mechanism {Percent(why.Mechanism)}, calibration {Percent(why.Calibration)}, lift state {Percent(why.LiftState)}",
        FindingDetail.Measured number => $"; {Rough(number)}",
        _ => throw new ArgumentOutOfRangeException(nameof(detail), detail, "Unknown detail."),
    };

    private string Excess(FindingDetail.Excess excess, Truth truth)
    {
        var verdict = excess.Verdict;
        var told = $" {Signed(verdict.Excess.Mean)} t ± {Tonnes(verdict.Excess.HalfWidth)} on {Tonnes(verdict.Scale)} t (in truth {Signed(truth.Excess(verdict.Margin))})";
        if (!verdict.Binds) told += ", a house rule";
        return excess.Remedies.IsEmpty ? told : $"{told}; {string.Join("; or ", excess.Remedies.Take(2).Select(Remedy))}";
    }

    private string Remedy(Remedy remedy) => remedy switch
    {
        Remedy.SetAxles set => string.Join(" and ", new[] { Act("lower", set.Lower), Act("raise", set.Raise) }.Where(a => a.Length > 0))
            + (set.AutomaticallyUndone.IsEmpty ? "" : $" (the control would lower {Keys(set.AutomaticallyUndone)} again)")
            + $", then closest: {Margin(set.Tightest.Margin.Key)} {Signed(set.Tightest.Excess.Mean)} t",
        Remedy.TakeOff off => $"take {Tonnes(off.Kilograms)} t off the {off.From.ToString().ToLowerInvariant()}"
            + (off.SureKilograms is { } sure ? $", {Tonnes(sure)} t to be sure" : "") + With(off.Then),
        Remedy.Shift shift => $"move {Tonnes(shift.Kilograms)} t by {shift.Metres.ToString("+0.0;-0.0", CultureInfo.InvariantCulture)} m" + With(shift.Then),
        _ => throw new ArgumentOutOfRangeException(nameof(remedy), remedy, "Unknown remedy."),
    };

    private string With(Configuration then) => then.Raised == lane.Configuration.Raised && then.Unloaded == lane.Configuration.Unloaded ? "" : $" with {Axles(then)}";

    private string Act(string verb, IEnumerable<int> axles) => axles.Any() ? $"{verb} {Keys(axles)}" : "";

    private string Keys(IEnumerable<int> axles) => string.Join(", ", axles.Select(a => _combination.Axles[a].Axle.Key));

    private string Axles(Configuration configuration)
    {
        var lifting = _combination.Axles.Where(a => a.Axle.Lift is not null);
        var states = lifting.Select(a => $"{a.Axle.Key} {configuration[a.Index].ToString().ToLowerInvariant()}");
        var modes = _combination.Bodies.Where(b => configuration.Mode(b.Index) != 0)
            .Select(b => $"{b.Vehicle.Id} in mode {b.Vehicle.Modes[configuration.Mode(b.Index)].Name}");
        return string.Join(", ", states.Concat(modes));
    }

    private string Name(FindingKey key) => key.Kind switch
    {
        FindingKind.Overload => Margin(key.Margin),
        FindingKind.CannotTell => $"cannot tell: {Margin(key.Margin)}",
        FindingKind.LoweredForNothing => $"down for nothing: {_combination.Axles[key.Element].Axle.Key}",
        FindingKind.AutomaticLoweringDidNotAct => $"automatic lowering did not act: {_combination.Axles[key.Element].Axle.Key}",
        FindingKind.MovingOffAid => $"moving-off aid: {_combination.Axles[key.Element].Axle.Key}",
        FindingKind.AxleRelieved => $"relieved though said to carry: {_combination.Axles[key.Element].Axle.Key}",
        FindingKind.LiftDisputed => $"said raised though it carries: {_combination.Axles[key.Element].Axle.Key}",
        FindingKind.SensorDrifts => $"drifts, not load: sensor {_combination.Sensors[key.Element].Sensor.Key}",
        FindingKind.SensorSilent => $"silent: sensor {_combination.Sensors[key.Element].Sensor.Key}",
        FindingKind.PressureStep => $"pressure stepped, not load: sensor {_combination.Sensors[key.Element].Sensor.Key}",
        FindingKind.SensorStill => $"shows no life: sensor {_combination.Sensors[key.Element].Sensor.Key}",
        FindingKind.SplitDeparts => $"split departs from the declared: {_combination.Vehicles[key.Element].Id}",
        FindingKind.SuspensionOff => $"suspension not at driving height or no air: {_combination.Vehicles[key.Element].Id}",
        FindingKind.NotPossible => "reported lift states and loads do not go together",
        FindingKind.PayloadImplausible => $"payload implausible: {_combination.Vehicles[key.Element].Id}",
        FindingKind.Carried => "carried",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };

    private string Margin(MarginKey key) => key.Kind switch
    {
        MarginKind.Axle => $"{_combination.Axles[key.Element].Axle.Key} axle",
        MarginKind.AxleRating => $"{_combination.Axles[key.Element].Axle.Key} axle's rating",
        MarginKind.TyreRating => $"{_combination.Axles[key.Element].Axle.Key} axle's tyres",
        MarginKind.Group => $"{(key.Element == 0 ? "front" : "rear")} group of {_combination.Vehicles[key.Body].Id}",
        MarginKind.Gross => $"gross of {_combination.Vehicles[key.Body].Id}",
        MarginKind.CombinationGross => "gross of the combination",
        MarginKind.DrivingShare => "driving share",
        MarginKind.SteeringShare => "steering share",
        MarginKind.CouplingLeast => $"least coupling load of {_combination.Vehicles[key.Body].Id}",
        MarginKind.CouplingMost => $"coupling load of {_combination.Vehicles[key.Body].Id}",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown limit."),
    };

    private string Clock(Moment at) => TimeSpan.FromSeconds(at.SecondsSince(start)).ToString("h\\:mm\\:ss", CultureInfo.InvariantCulture);

    private static string Word(Level level) => level.ToString().ToLowerInvariant();

    private static string Plural(int count, string what) => count == 1 ? $"1 {what}" : FormattableString.Invariant($"{count} {what}s");

    private static string Rough(FindingDetail.Measured number) => number.Unit == "kg" ? $"{Signed(number.Value)} t"
        : number.Value.ToString("0", CultureInfo.InvariantCulture) + " " + number.Unit;

    private static string Percent(double part) => (100 * part).ToString("0", CultureInfo.InvariantCulture) + " %";

    private static string Tonnes(double kilograms) => (Math.Round(kilograms / 100) / 10 + 0.0).ToString("0.0", CultureInfo.InvariantCulture);

    private static string Signed(double kilograms) => (Math.Round(kilograms / 100) / 10 + 0.0).ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>
/// Findings and remedies of a combination as plain sentences. Loads in tonnes with one decimal; what must come off rounded
/// up; how sure beside every statement. Advice that is read on the way never says to raise an axle before the next stop.
/// </summary>
public sealed class Sentences
{
    private readonly Combination _combination;
    private readonly LimitSentences _limits;
    private readonly RemedySentences _remedies;
    private readonly InstrumentSentences _instruments;

    /// <summary>Sentences about a combination.</summary>
    public Sentences(Combination combination)
    {
        _combination = combination;
        Names = new Names(combination);
        _limits = new LimitSentences(Names);
        _remedies = new RemedySentences(combination, Names, _limits);
        _instruments = new InstrumentSentences(Names);
    }

    /// <summary>To stand once beside every output that people read.</summary>
    public const string Caution = "On-board estimate, not a certified weighing: a certified weighbridge and the competent authority decide.";

    /// <summary>To stand once beside limits.</summary>
    public const string LimitCaution = "Limits as of the stated edition: local law and permits come first.";

    /// <summary>Of a trailer that rolls behind nobody.</summary>
    public const string Unclaimed = "The trailer is heard rolling, and no vehicle says that it pulls it: its loads are not stated. State the coupling.";

    /// <summary>What the parts are called.</summary>
    public Names Names { get; }

    /// <summary>What a lane has to say.</summary>
    public string Of(LaneOutput output) => output switch
    {
        LaneOutput.Episode episode => Episode(episode),
        LaneOutput.Provisional warning => $"As it stands now: {Together(warning.Key, warning.Level, warning.Detail, warning.Also)} Drive 300 m to be sure.",
        LaneOutput.LoadBegan began => $"A new load: {Amount.Tonnes(Math.Max(0, began.Payload.Mean))}, give or take {Amount.Tonnes(began.Payload.HalfWidth)}.",
        LaneOutput.LoadGoesOn => "The same load as before the stop.",
        LaneOutput.Accounted account => FormattableString.Invariant($"Account: {account.Unit.Metres / 1000:0.0} km since {account.Since}."),
        LaneOutput.Configured configured => $"{Names.Begin(Lifts(configured.Configuration))}.",
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "Unknown output."),
    };

    /// <summary>A finding that holds.</summary>
    public string Of(FindingKey key, Level level, FindingDetail detail) => (key.Kind, detail) switch
    {
        (FindingKind.Overload, FindingDetail.Excess over) => Over(over, level, null),
        (FindingKind.CannotTell, FindingDetail.Excess wide) => _limits.CannotTell(wide.Verdict, wide.Load.Mean),
        (FindingKind.Overload, _) => $"{Names.Begin(Names.Limited(key.Margin))} {OverWhat(key.Margin.Kind)} ({LimitSentences.Sure(level)}).",
        (FindingKind.CannotTell, _) => $"Cannot tell whether {Names.Limited(key.Margin)} is within its limit. Weigh it or fit a sensor.",
        (FindingKind.LoweredForNothing, FindingDetail.Idle idle) => Idle(idle),
        (FindingKind.LoweredForNothing, _) => $"{Names.Begin(Names.Axle(key.Element))} is down for nothing. Raise it at the next stop.",
        (FindingKind.OverAcrossBorder, FindingDetail.Excess over) => $"Across the border ahead{(over.Across.IsNone ? "" : $" ({over.Across})")} it would be over. {Over(over, level, null)}",
        (FindingKind.OverAcrossBorder, _) => "Across the border ahead it would be over a limit.",
        (FindingKind.TrailerClaimedTwice, _) => "Another vehicle says that the same trailer hangs on it. The last word counts: who said so earlier is followed without the trailer, and no gross is given. Ask the drivers.",
        (FindingKind.TrailerUndescribed, _) => $"Trailer {Names.Vehicle(key.Element)} has no description: stated as {StandInTrailer.Words(_combination.Vehicles[key.Element])}, gross within tonnes only, none of its limits judged. Enter its file.",
        (FindingKind.TrailerUnclaimed, _) => Unclaimed,
        (FindingKind.CountryUndecided, _) => "Country undecided: so near to the border its side cannot be told. Limits that differ there are not counted.",
        (FindingKind.RaisedForNothing, FindingDetail.Measured cost) => FormattableString.Invariant($"{Names.Begin(Names.Axle(key.Element))} is raised where it harms: lowered everything holds and it costs {cost.Value:0.00} {cost.Unit.Trim()} less, by tyres and bends. Lower it at the next stop."),
        (FindingKind.RaisedForNothing, _) => $"{Names.Begin(Names.Axle(key.Element))} is raised where it harms. Lower it at the next stop.",
        _ => _instruments.Of(key, detail),
    };

    private static string OverWhat(MarginKind kind) => kind switch
    {
        MarginKind.AxleRating => "is over its rating",
        MarginKind.TyreRating => "are over what they may carry",
        _ => IsLeast(kind) ? "is below its limit" : "is over its limit",
    };

    // Of these the law asks a least.
    private static bool IsLeast(MarginKind kind) => kind is MarginKind.CouplingLeast or MarginKind.DrivingShare or MarginKind.SteeringShare;

    /// <summary>A limit that is passed, and what would end it. <paramref name="present"/> where known: then lifts that stay as they are go without saying.</summary>
    public string Over(FindingDetail.Excess over, Level level, Configuration? present)
    {
        var statement = _limits.Over(over.Verdict, over.Load.Mean, level);
        return over.Verdict.Excess.Mean > 0 && over.Verdict.Binds ? $"{statement} {_remedies.Best(over.Remedies, present)}" : statement;
    }

    /// <summary>What to do about an episode: the sentence that <see cref="Of(LaneOutput)"/> ends with; <c>null</c> where that says none.</summary>
    public string? RemedyOf(LaneOutput.Episode episode) =>
        episode is { Change: not EpisodeChange.Closed, Detail: FindingDetail.Excess over } && _remedies.Best(over.Remedies, null) is var remedy && Of(episode).EndsWith($" {remedy}", StringComparison.Ordinal) ? remedy : null;

    /// <summary>A finding with the limits that are told with it: the others are named before the remedy, which ends them all.</summary>
    private string Together(FindingKey key, Level level, FindingDetail detail, ImmutableArray<Verdict> also) => (key.Kind, detail) switch
    {
        _ when also.IsEmpty => Of(key, level, detail),
        (FindingKind.Overload, FindingDetail.Excess over) => $"{_limits.Over(over.Verdict, over.Load.Mean, level)}{Also(" Also over:", also)}"
            + (over.Verdict.Binds ? $" {_remedies.Best(over.Remedies, null)}" : ""),
        _ => $"{Of(key, level, detail)}{Also(" Nor for", also)}",
    };

    private string Also(string words, ImmutableArray<Verdict> also) =>
        also.IsEmpty ? "" : $"{words} {string.Join(", ", also.Select(Other))}.";

    private string Other(Verdict verdict) =>
        verdict.Margin.Key.Kind == MarginKind.AxleRating ? $"the rating of {Names.Limited(verdict.Margin)}" : Names.Limited(verdict.Margin);

    /// <summary>A limit that is passed, by itself.</summary>
    public string Over(in Verdict verdict, Level level) => _limits.Over(verdict, LimitSentences.Load(verdict), level);

    /// <summary>A limit of which it cannot be told whether it is passed.</summary>
    public string CannotTell(in Verdict verdict) => _limits.CannotTell(verdict, LimitSentences.Load(verdict));

    /// <summary>One remedy.</summary>
    public string Of(Remedy remedy, Configuration? present = null) => _remedies.Of(remedy, present);

    /// <summary>How the lifts stand: <c>axle 3 (tag) raised</c>.</summary>
    public string Lifts(Configuration configuration) => LiftSentences.Positions(_combination, Names, configuration);

    private string Idle(FindingDetail.Idle idle)
    {
        var (are, save, them) = idle.Raised.Length == 1 ? ("is", "it saves", "it") : ("are", "they save", "them");
        var all = RollingResistance.LitresPer100Km(idle.TyreNewtons + idle.HubNewtons);
        var tyres = RollingResistance.LitresPer100Km(idle.TyreNewtons);
        return FormattableString.Invariant($"{Names.Begin(Names.Axles(idle.Raised))} {are} down for nothing: raised {save} {all:0.0} l/100 km ({tyres:0.0} without hub drag), ")
            + $"with {_limits.Then(idle.Tightest)}. Raise {them} at the next stop.";
    }

    private string Episode(LaneOutput.Episode episode)
    {
        var key = episode.Key;
        return episode.Change switch
        {
            EpisodeChange.Opened or EpisodeChange.None => Together(key, episode.Level, episode.Detail, episode.Also),
            EpisodeChange.Rose => $"Now sure: {Together(key, episode.Level, episode.Detail, episode.Also)}",
            EpisodeChange.Fell => $"No longer sure: {Together(key, episode.Level, episode.Detail, episode.Also)}",
            EpisodeChange.Closed => $"{Ended(key, episode.Detail)}{Also(" The same holds for", episode.Also)}",
            _ => throw new ArgumentOutOfRangeException(nameof(episode), episode.Change, "Unknown change."),
        };
    }

    private string Ended(FindingKey key, FindingDetail detail) => key.Kind switch
    {
        FindingKind.Overload => detail is FindingDetail.Excess now && now.Verdict.Excess.Mean <= 0
            ? $"Ended: {Names.Limited(key.Margin)} is within its limit, {_limits.Then(now.Verdict)}."
            : $"Ended: {Names.Limited(key.Margin)} is no longer over its limit.",
        FindingKind.CannotTell when detail is FindingDetail.Excess => $"Ended: it can be told again whether {Names.Limited(key.Margin)} is within its limit.",
        FindingKind.CannotTell => $"Ended: the load or the lifts may be others now, so whether {Names.Limited(key.Margin)} is within its limit is looked at anew.",
        FindingKind.LoweredForNothing => $"Ended: {Names.Axle(key.Element)} is no longer known to be down for nothing.",
        FindingKind.OverAcrossBorder => "Ended: the border is behind, or the vehicle does not head for it any more.",
        FindingKind.TrailerClaimedTwice => "Ended: its trailers are claimed by nobody else any more.",
        FindingKind.TrailerUndescribed => $"Ended: trailer {Names.Vehicle(key.Element)} is described now, or no longer coupled.",
        FindingKind.TrailerUnclaimed => "Ended: a vehicle says that it pulls it, or it is not heard any more.",
        FindingKind.CountryUndecided => "Ended: it can be told again in which country the vehicle is.",
        FindingKind.RaisedForNothing => $"Ended: {Names.Axle(key.Element)} is no longer known to cost more raised than lowered.",
        FindingKind.AutomaticLoweringDidNotAct => $"Ended: {Names.Axle(key.Element)} is no longer up with a limit passed.",
        FindingKind.MovingOffAid => $"Ended: moving off with {Names.Axle(key.Element)} relieved or raised.",
        FindingKind.AxleRelieved => $"Ended: the bellows of {Names.Axle(key.Element)} carry as reported.",
        FindingKind.LiftDisputed => $"Ended: the switch of {Names.Axle(key.Element)} and its bellows go together again.",
        FindingKind.PressureStep => $"Ended: {Names.Sensor(key.Element)} fits the load again.",
        FindingKind.SensorDrifts => $"Ended: {Names.Sensor(key.Element)} fits the load again.",
        FindingKind.SensorSilent => $"Ended: {Names.Sensor(key.Element)} reports again.",
        FindingKind.SensorStill => $"Ended: {Names.Sensor(key.Element)} feels the road again.",
        FindingKind.SplitDeparts => $"Ended: the axles of {Names.Vehicle(key.Element)} share as declared.",
        FindingKind.SuspensionOff => $"Ended: {Names.Vehicle(key.Element)} is at driving height with air in its bellows.",
        FindingKind.Carried => "Ended: the vehicle rolls by itself again.",
        FindingKind.NotPossible => "Ended: what is reported goes together again.",
        FindingKind.PayloadImplausible => $"Ended: the payload of {Names.Vehicle(key.Element)} is plausible again.",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Languages;

/// <summary>
/// Alerts in German: put together from the same finding, verdict and remedies as the English sentence, never from that sentence. Every kind that is ever told
/// as an alert has its texts; a standing note that is never told has none.
/// </summary>
/// <param name="combination">The vehicles it is about, as they were; <c>null</c> where they are not known.</param>
internal sealed class GermanAlerts(Combination? combination)
{
    private readonly GermanNames _names = new(combination);
    private readonly GermanLimits _limits = new(new GermanNames(combination));
    private readonly SubjectWords _subjects = new(new PartNames(combination));

    /// <summary>The words of a change.</summary>
    /// <param name="change">The change.</param>
    /// <param name="usual">Of a silent vehicle: its longest usual silence; <c>null</c> where it is not known.</param>
    public AlertWords Of(AlertChange change, TimeSpan? usual) => new(About(change.Id.Subject), Sentence(change, usual)) { Happened = new GermanCauses(About).Of(change.Cause), With = [.. change.With.Select(About)] };

    /// <summary>What holds, for who is to act on it now.</summary>
    /// <param name="key">What was found.</param>
    /// <param name="finding">The finding in full; <c>null</c> where it is not at hand.</param>
    public string Holds(FindingKey key, LaneOutput.Episode? finding) => finding is null ? Open(key, new FindingDetail.None()) : Episode(finding);

    /// <summary>What an alert is about.</summary>
    public string About(AlertSubject subject) => subject.Finding switch
    {
        null => GermanTexts.Of("AboutSilent"),
        { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.CouplingLeast or MarginKind.DrivingShare or MarginKind.SteeringShare } below } => GermanTexts.Of("AboutBelow", _names.Limited(below)),
        { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.AxleRating } rating } => GermanTexts.Of("AboutRating", _names.Axle(rating.Element)),
        { Kind: FindingKind.Overload, Margin: { Kind: MarginKind.TyreRating } tyres } => GermanTexts.Of("AboutTyres", _names.Axle(tyres.Element)),
        { Kind: FindingKind.Overload, Margin: var margin } => GermanTexts.Of("AboutOver", _names.Limited(margin)),
        { } key => GermanTexts.Of($"About{key.Kind}", Part(key)),
    };

    /// <summary>What holds or ended, with its remedy where there is one.</summary>
    private string Sentence(AlertChange change, TimeSpan? usual)
    {
        var closes = change.State.Behind() is AlertState.ReturnedUnacknowledged or AlertState.Unstated or AlertState.Normal;
        if (change.Id.Subject.Finding is not { } key)
            return closes ? GermanTexts.Of("SilentEnded", change.Id.Vehicle.Id) : Silent(change, usual);
        if (change.Episode is { } episode && combination is not null && _subjects.IsOf(episode.Key))
            return closes && episode.Change != EpisodeChange.Closed ? GermanTexts.Of("OverByNow", Episode(episode)) : Episode(episode);
        if (closes) return Ended(key);
        return key.Kind == FindingKind.Overload ? Limit(key, change.Level, change.Figures) : Open(key, new FindingDetail.None());
    }

    private string Episode(LaneOutput.Episode episode) => episode.Change switch
    {
        EpisodeChange.Opened or EpisodeChange.None => Together(episode),
        EpisodeChange.Rose => GermanTexts.Of("NowSure", Together(episode)),
        EpisodeChange.Fell => GermanTexts.Of("NoLongerSure", Together(episode)),
        EpisodeChange.Closed => Ended(episode.Key) + (episode.Also.IsEmpty ? "" : GermanTexts.Of("SameFor", Others(episode.Also))),
        _ => throw new ArgumentOutOfRangeException(nameof(episode), episode.Change, "Unknown change."),
    };

    private string Together(LaneOutput.Episode episode)
    {
        if (episode is not { Key.Kind: FindingKind.Overload or FindingKind.OverAcrossBorder, Detail: FindingDetail.Excess over })
            return episode.Key.Kind == FindingKind.Overload ? Limit(episode.Key, episode.Level, null) : Open(episode.Key, episode.Detail);
        var also = episode.Also.IsEmpty ? "" : GermanTexts.Of("AlsoOver", Others(episode.Also));
        var remedy = over.Verdict.Excess.Mean > 0 && over.Verdict.Binds ? " " + _limits.Best(over.Remedies) : "";
        var limit = $"{_limits.Over(over.Verdict, over.Load.Mean, episode.Level)}{also}{remedy}";
        return episode.Key.Kind == FindingKind.OverAcrossBorder ? $"{Open(episode.Key, episode.Detail)} {limit}" : limit;
    }

    /// <summary>A limit that is passed, where the finding itself is not at hand.</summary>
    private string Limit(FindingKey key, Level level, AlertFigures? figures)
    {
        var below = key.Margin.Kind is MarginKind.CouplingLeast or MarginKind.DrivingShare or MarginKind.SteeringShare;
        if (figures is not { } known || key.Margin.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare)
            return GermanTexts.Of(below ? "BelowPlain" : "OverPlain", GermanTexts.Begin(_names.Limited(key.Margin)), GermanLimits.Sure(level));
        var margin = new Margin
        {
            Key = key.Margin, Weights = [], Constant = below ? -known.Scale : known.Scale, Limit = known.Scale, Source = new LimitSource("", "", DateOnly.MinValue, LimitStatus.VehiclePapers), Standing = MarginStanding.Law,
        };
        var verdict = new Verdict(margin, new Estimated(known.Excess, known.Sd), known.Scale);
        return _limits.Over(verdict, GermanLimits.Load(verdict), level);
    }

    private string Open(FindingKey key, FindingDetail detail) => (key.Kind, detail) switch
    {
        (FindingKind.LoweredForNothing, FindingDetail.Idle idle) => GermanTexts.Of("IdleSaves", GermanTexts.Begin(_names.Axles(idle.Raised)), Litres(idle.TyreNewtons + idle.HubNewtons), Litres(idle.TyreNewtons), _limits.Then(idle.Tightest)),
        _ => GermanTexts.Of($"Open{key.Kind}", GermanTexts.Begin(Part(key)), More(key.Kind, detail)),
    };

    private string Ended(FindingKey key) => GermanTexts.Of("Ended", GermanTexts.Of($"Ended{key.Kind}", key.Kind == FindingKind.Overload ? _names.Limited(key.Margin) : Part(key)));

    private string Part(FindingKey key) => key.Kind switch
    {
        FindingKind.PressureStep or FindingKind.SensorDrifts or FindingKind.SensorSilent or FindingKind.SensorStill => _names.Sensor(key.Element),
        FindingKind.SplitDeparts or FindingKind.PayloadImplausible or FindingKind.TrailerUndescribed => _names.Vehicle(key.Element),
        FindingKind.LoweredForNothing or FindingKind.RaisedForNothing or FindingKind.AutomaticLoweringDidNotAct or FindingKind.LiftDisputed or FindingKind.AxleRelieved => _names.Axle(key.Element),
        _ => "",
    };

    private static string More(FindingKind kind, FindingDetail detail) => (kind, detail) switch
    {
        (FindingKind.PressureStep or FindingKind.SensorDrifts, FindingDetail.Measured by) => GermanTexts.Of("ByTonnes", GermanAmount.Tonnes(Math.Abs(by.Value))),
        (FindingKind.LiftDisputed, FindingDetail.Measured held) => GermanTexts.Of("AtKilopascals", FormattableString.Invariant($"{held.Value:0}")),
        (FindingKind.SplitDeparts, FindingDetail.Measured split) => GermanTexts.Of("ByPoints", FormattableString.Invariant($"{split.Value:0}")),
        (FindingKind.PayloadImplausible, FindingDetail.Measured payload) => GermanTexts.Of("AtTonnes", GermanAmount.Tonnes(payload.Value)),
        (FindingKind.PayloadImplausible, _) => GermanTexts.Of("AtImplausible"),
        (FindingKind.AutomaticLoweringDidNotAct, FindingDetail.DidNotAct odds) => GermanTexts.Of("Odds", GermanAmount.WholePercent(odds.Mechanism), GermanAmount.WholePercent(odds.Calibration), GermanAmount.WholePercent(odds.LiftState)),
        (FindingKind.OverAcrossBorder, FindingDetail.Excess { Across: { IsNone: false } across }) => GermanTexts.Of("Country", across),
        _ => "",
    };

    private string Others(ImmutableArray<Verdict> also) => string.Join(", ", also.Select(v => v.Margin.Key.Kind == MarginKind.AxleRating ? GermanTexts.Of("Rating", _names.Limited(v.Margin)) : _names.Limited(v.Margin)));

    private static string Silent(AlertChange change, TimeSpan? usual) => GermanTexts.Of("Silent", change.Id.Vehicle.Id,
        Span(TimeSpan.FromSeconds(Math.Max(0, change.At.SecondsSince(change.Id.Since)))), usual is { } known ? GermanTexts.Of("SilentUsual", Span(known)) : GermanTexts.Of("SilentUnknown"));

    private static string Span(TimeSpan span) => span.TotalHours >= 48 ? GermanTexts.Of("Days", span.Days, span.Hours)
        : span.TotalHours >= 1 ? GermanTexts.Of("Hours", (int)span.TotalHours, span.Minutes) : GermanTexts.Of("Minutes", span.Minutes);

    private static string Litres(double newtons) => GermanAmount.Number(RollingResistance.LitresPer100Km(newtons));
}

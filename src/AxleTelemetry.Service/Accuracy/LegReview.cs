using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Replaying;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>Holds legs against the truth: stated loads, overloads, advice.</summary>
internal sealed class LegReview(ConfiguredFleet fleet, UnitTruth truth)
{
    // A leg that could be judged: two readings a minute apart at least, and the kilometre that opens an episode behind them.
    private const double LeastMetres = 10_000;
    private const int LeastRows = 3;

    private readonly List<(TruthRecord.Leg Leg, Combination Combination, LaneMoment Lane)> _legs = [];
    private readonly Dictionary<Combination, TrueLimits> _limits = [];
    private int _notFollowed;

    /// <summary>A leg has ended; its lane as it stands then.</summary>
    public void Ended(TruthRecord.Leg leg, Lane? lane)
    {
        if (lane is null || !lane.Setup.Combination.Vehicles.Select(v => v.Id).SequenceEqual(leg.Vehicles))
        {
            // The lane has other vehicles than the leg had: it is counted, not judged.
            if (leg.Metres >= LeastMetres) _notFollowed++;
            return;
        }

        _legs.Add((leg, lane.Setup.Combination, new LaneMoment(lane)));
    }

    /// <summary>Everything, once all that was said is known.</summary>
    public UnitResult Result(SimulatedVehicle vehicle, int days, Replay replay)
    {
        var rows = replay.Store.History.Select(row => Read(row.Bytes.AsSpan())).Where(row => row.Key.Unit.Id == vehicle.Lead.Id).ToList();
        var loads = rows.OfType<HistoryRow.Load>().Where(l => l.Standing == LoadStanding.Settled).OrderBy(l => l.Key.At).ToList();
        var episodes = rows.OfType<HistoryRow.Episode>().ToList();
        var most = _legs.Select(l => l.Leg.Payloads.Sum(p => p.Kilograms)).DefaultIfEmpty(0).Max();
        var figures = ImmutableArray.CreateBuilder<LegFigure>();
        var limits = ImmutableArray.CreateBuilder<LegLimit>();
        var advice = ImmutableArray.CreateBuilder<LegAdvice>();
        var (judged, unsettled) = (0, 0);
        foreach (var (leg, combination, lane) in _legs)
        {
            if (leg.Metres < LeastMetres) continue;
            var own = loads.Where(l => l.Key.At >= leg.From && l.Key.At <= leg.At && l.Members.Length == leg.Vehicles.Length).ToList();
            if (own.Count < LeastRows)
            {
                unsettled++;
                continue;
            }

            judged++;
            var classes = lane.Classes;
            var fill = most > 0 ? leg.Payloads.Sum(p => p.Kilograms) / most : 0;
            AddFigures(figures, classes, (own[0], LegPlace.First), (fill, judged));
            AddFigures(figures, classes, (own[^1], LegPlace.Last), (fill, judged));
            AddLimits(limits, (leg, combination), classes, episodes);
            if (lane.IsOf(leg) && Judge(leg, combination, lane, episodes) is { } given) advice.Add(given);
        }

        return new UnitResult
        {
            Kind = vehicle.Kind, Id = vehicle.Lead.Id, Days = days, Legs = judged, Unsettled = unsettled + _notFollowed,
            Figures = figures.ToImmutable(), Limits = limits.ToImmutable(), Advice = advice.ToImmutable(), Told = [.. Told(episodes, replay)],
        };
    }

    private void AddFigures(ImmutableArray<LegFigure>.Builder to, Classing classes, (HistoryRow.Load Row, LegPlace Place) stated, (double Fill, int Leg) leg)
    {
        // Figures of the measured moment; what is true changes by the fuel that burns only.
        if (truth.At(stated.Row.Key.At) is not { } real) return;
        for (var a = 0; a < stated.Row.Axles.Length; a++)
            if (stated.Row.Axles[a] is { } axle && real.Configuration[a] != AxleState.Raised)
                to.Add(new(classes.Axle(a), leg.Fill, axle, real.Rows[a], stated.Place, leg.Leg));
        if (stated.Row.Gross is { } gross) to.Add(new(classes.Gross, leg.Fill, gross, real.Rows.Take(stated.Row.Axles.Length).Sum(), stated.Place, leg.Leg));
    }

    private void AddLimits(ImmutableArray<LegLimit>.Builder to, (TruthRecord.Leg Leg, Combination Combination) of, Classing classes, List<HistoryRow.Episode> episodes)
    {
        var greatest = new SortedDictionary<MarginKey, double>();
        foreach (var moment in truth.Between(of.Leg.From, of.Leg.At))
        {
            if (!moment.Rolling || moment.Rows.Length != of.Combination.Rows) continue;
            foreach (var margin in LimitsOf(of.Combination).In(moment.Configuration))
            {
                var size = TrueMoment.Excess(margin, moment.Rows.AsSpan()) / TrueMoment.Scale(margin, moment.Rows.AsSpan());
                if (size > 0) greatest[margin.Key] = Math.Max(size, greatest.GetValueOrDefault(margin.Key));
            }
        }

        foreach (var (key, size) in greatest)
        {
            bool Said(FindingKind kind) => episodes.Any(e => e.Key.Finding.Kind == kind && e.Key.Finding.Margin == key && IsIn(e, of.Leg)
                && (kind == FindingKind.CannotTell || e.Reached >= Level.Likely));
            to.Add(new(ClassOf(key, classes), key, size, Said(FindingKind.Overload), Said(FindingKind.CannotTell)));
        }
    }

    private LegAdvice? Judge(TruthRecord.Leg leg, Combination combination, LaneMoment lane, List<HistoryRow.Episode> episodes)
    {
        if (truth.LastRolling(leg.From, leg.At) is not { } real || real.Rows.Length != combination.Rows) return null;
        var limits = LimitsOf(combination);
        if (limits.Nearest(real.Configuration, real.Rows.AsSpan()) < AdviceRule.Clear) return null;
        var rule = new AdviceRule(combination, limits);
        if (rule.Right(real, leg.InLifts) is not { } right) return null;
        var over = episodes.Any(e => Holds(e, FindingKind.Overload, leg.At) && e.Subject is EpisodeSubject.Limit { Standing: not MarginStanding.HouseRule } && e.Reached >= Level.Likely);
        if (!over && episodes.Any(e => Holds(e, FindingKind.CannotTell, leg.At) && e.Subject is not EpisodeSubject.Limit { Standing: MarginStanding.HouseRule }))
            return new(right, Advice.CannotTell, true);
        if (!over) return new(right, episodes.Any(e => Holds(e, FindingKind.LoweredForNothing, leg.At)) ? Advice.Raise : Advice.Leave, true);
        var remedy = lane.Remedies(real.Configuration).OfType<Remedy.SetAxles>().FirstOrDefault();
        return new(right, remedy is null ? Advice.Unload : Advice.SetAxles, remedy is null || rule.Holds(remedy.Then, leg.InLifts));
    }

    private IEnumerable<ToldOverload> Told(List<HistoryRow.Episode> episodes, Replay replay)
    {
        // What opens at one moment is told together; the gravest leads.
        var overloads = episodes.Where(e => e.Key.Finding.Kind == FindingKind.Overload && e.Reached >= Level.Likely && e.Subject is EpisodeSubject.Limit { Standing: not MarginStanding.HouseRule });
        foreach (var together in overloads.GroupBy(e => e.OpenedAt))
        {
            var gravest = together.MaxBy(e => Size((EpisodeSubject.Limit)e.Subject))!;
            var combination = replay.Shard.State.Setups.Of(gravest.Members).Combination;
            var size = double.NegativeInfinity;
            foreach (var moment in truth.Between(gravest.Key.At, gravest.ClosedAt ?? gravest.OpenedAt.Plus(3600)))
                if (moment.Rolling && moment.Rows.Length == combination.Rows && LimitsOf(combination).Find(gravest.Key.Finding.Margin, moment.Configuration) is { } margin)
                    size = Math.Max(size, TrueMoment.Excess(margin, moment.Rows.AsSpan()) / TrueMoment.Scale(margin, moment.Rows.AsSpan()));
            yield return new(gravest.Key.Finding.Margin, size, Size((EpisodeSubject.Limit)gravest.Subject));
        }
    }

    private TrueLimits LimitsOf(Combination combination)
    {
        if (!_limits.TryGetValue(combination, out var known)) _limits.Add(combination, known = new TrueLimits(combination, fleet));
        return known;
    }

    private static FigureClass ClassOf(MarginKey key, Classing classes) => key.Kind switch
    {
        MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating when key.Element >= 0 => classes.Axle(key.Element),
        MarginKind.CombinationGross => classes.Gross,
        MarginKind.Gross when key.Body <= 0 => classes.Gross,
        _ => FigureClass.Inferred,
    };

    private static double Size(EpisodeSubject.Limit limit) => limit.Peak.Mean / limit.Scale;

    private static bool IsIn(HistoryRow.Episode episode, TruthRecord.Leg leg) => episode.OpenedAt <= leg.At && (episode.ClosedAt is not { } closed || closed >= leg.From);

    private static bool Holds(HistoryRow.Episode episode, FindingKind kind, Moment at) =>
        episode.Key.Finding.Kind == kind && episode.OpenedAt <= at && (episode.ClosedAt is not { } closed || closed >= at);

    private static HistoryRow Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from) ?? throw new InvalidOperationException("A row of history that cannot be read.");
    }
}

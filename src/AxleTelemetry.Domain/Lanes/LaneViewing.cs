using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Looks at a lane without changing it.</summary>
public static class LaneViewing
{
    /// <summary>What the lane knows at its latest reading.</summary>
    public static LaneView View(this Lane lane)
    {
        var state = lane.State;
        var standing = StandingOf(state);
        var estimate = standing == LoadStanding.Provisional ? state.Provisional : state.Payload;
        var withheld = Reasons(lane, standing);
        var judged = standing == LoadStanding.None ? null : lane.Setup.TableAt(state.Place.Stack).At(lane.Configuration, estimate.State);
        if (standing != LoadStanding.None && judged is null) withheld = withheld.Add(Withheld.ConfigurationImpossible);
        if (withheld.Any(Hides)) judged = null;
        var reader = judged is null ? null : new Figures(lane, estimate, judged);
        return new LaneView
        {
            At = state.Motion.LastReadingAt == 0 ? null : new Moment(state.Motion.LastReadingAt),
            Combination = lane.Setup.Combination,
            Movement = lane.Movement,
            Configuration = lane.Configuration,
            Standing = Worth(standing, judged, withheld),
            MeasuredAt = MeasuredAt(state, standing),
            Axles = [.. lane.Setup.Combination.Axles.Select(a => new AxleView(a, lane.Configuration[a.Index], BasisOf(lane.Setup, a.Index), LoadOf(lane, reader, a.Index)) { Reason = ReasonRule.Of(state.Axles[a.Index], state.Motion.LastReadingAt) })],
            Gross = withheld.Contains(Withheld.TrailerClaimedTwice) ? null : reader?.Gross(),
            Payloads = reader?.Payloads() ?? [],
            Withheld = withheld,
            Open = Open(lane),
            Place = LaneRecorder.PlaceOf(lane),
            Whereabouts = state.Place.Whereabouts,
            Permits = lane.Setup.Law.PermitsOf(state.Place.Stack),
            Differing = judged is null ? [] : Differing(lane, estimate, judged),
        };
    }

    private static LoadStanding StandingOf(LaneState state) =>
        state.Load.MayHaveChanged == 0 && state.Payload.Readings > 0 ? LoadStanding.Settled
        : state.Load.HasProvisional != 0 ? LoadStanding.Provisional
        : state.Payload.Readings > 0 ? LoadStanding.Earlier
        : LoadStanding.None;

    private static LoadStanding Worth(LoadStanding standing, JudgedConfiguration? judged, ImmutableArray<Withheld> withheld) =>
        judged is null ? LoadStanding.None
        : standing == LoadStanding.Settled && withheld.Contains(Withheld.BodyAtWork) ? LoadStanding.Earlier
        : standing;

    private static Moment? MeasuredAt(LaneState state, LoadStanding standing) => standing switch
    {
        LoadStanding.None => null,
        LoadStanding.Provisional => new Moment(state.Load.ProvisionalAt),
        LoadStanding.Settled or LoadStanding.Earlier => new Moment(state.Load.SettledAt),
        _ => throw new ArgumentOutOfRangeException(nameof(standing), standing, "Unknown standing."),
    };

    private static ImmutableArray<Withheld> Reasons(Lane lane, LoadStanding standing)
    {
        var reasons = ImmutableArray.CreateBuilder<Withheld>();
        if (standing == LoadStanding.None) reasons.Add(Withheld.NothingMeasured);
        if (standing is LoadStanding.Provisional or LoadStanding.Earlier) reasons.Add(Withheld.LoadMayHaveChanged);
        if (lane.State.Conditions.Any(c => c.PowerTakeOff != 0 || c.BodyInUse != 0)) reasons.Add(Withheld.BodyAtWork);
        if (lane.State.Conditions.Any(c => c.RideOff != 0 || c.NoAir != 0)) reasons.Add(Withheld.SuspensionOff);
        if (lane.Movement == Movement.Carried) reasons.Add(Withheld.Carried);
        if (lane.State.Load.Claims == (long)TrailerClaims.Lost) reasons.Add(Withheld.TrailerClaimedTwice);
        return reasons.ToImmutable();
    }

    private static ImmutableArray<DifferingLaw> Differing(Lane lane, PayloadEstimate estimate, JudgedConfiguration here)
    {
        var place = lane.State.Place;
        if (place.StackAcross == place.Stack || lane.Setup.TableAt(place.StackAcross).At(lane.Configuration, estimate.State) is not { } across) return [];
        var (ours, theirs) = (Law(here), Law(across));
        return [.. ours.Keys.Union(theirs.Keys).Order().Select(key => new DifferingLaw(Of(ours, key), Of(theirs, key)))
            .Where(law => law.Here?.Margin.Limit != law.Across?.Margin.Limit)];

        Dictionary<MarginKey, Verdict> Law(JudgedConfiguration judged) => Enumerable.Range(0, judged.Margins.Length).Where(i => judged.Margins[i].Standing == MarginStanding.Law)
            .ToDictionary(i => judged.Margins[i].Key, i => judged.Judge(i, lane.Setup.Estimator, estimate, lane.State.Known));

        static Verdict? Of(Dictionary<MarginKey, Verdict> law, MarginKey key) => law.TryGetValue(key, out var verdict) ? verdict : null;
    }

    private static bool Hides(Withheld reason) => reason is Withheld.SuspensionOff or Withheld.Carried or Withheld.ConfigurationImpossible;

    private static LimitedLoad? LoadOf(Lane lane, Figures? reader, int axle) =>
        reader is null || lane.Configuration[axle] == AxleState.Raised ? null : reader.Axle(axle);

    private static LoadBasis BasisOf(LaneSetup setup, int axle)
    {
        if (setup.Combination.Vehicles[setup.Combination.Axles[axle].Body].IsStandIn) return LoadBasis.Assumed;
        var basis = LoadBasis.Inferred;
        foreach (var circuit in setup.Estimator.Circuits)
        {
            if (!circuit.Part.Axles.Contains(axle)) continue;
            if (circuit.OneSided) basis = basis == LoadBasis.Inferred ? LoadBasis.OneSide : basis;
            else if (circuit.Part.Axles.Length == 1) return LoadBasis.OwnSensor;
            else basis = LoadBasis.SharedCircuit;
        }

        return basis;
    }

    private static ImmutableArray<OpenFinding> Open(Lane lane)
    {
        var open = ImmutableArray.CreateBuilder<OpenFinding>();
        for (var slot = 0; slot < lane.State.Episodes.Length; slot++)
        {
            ref var episode = ref lane.State.Episodes[slot];
            if (episode.Level != Level.Clear) open.Add(new OpenFinding(lane.Setup.Catalog.Keys[slot], episode.Level, new Moment(episode.OpenSince)));
        }

        return open.ToImmutable();
    }
}

/// <summary>Reads loads off an estimate in one configuration.</summary>
internal sealed class Figures
{
    private readonly Lane _lane;
    private readonly PayloadEstimate _estimate;
    private readonly JudgedConfiguration _judged;
    private readonly Estimated[] _excesses;

    public Figures(Lane lane, PayloadEstimate estimate, JudgedConfiguration judged)
    {
        (_lane, _estimate, _judged) = (lane, estimate, judged);
        _excesses = new Estimated[judged.Margins.Length];
        judged.JudgeAll(lane.Setup.Estimator, estimate, lane.State.Known, _excesses);
    }

    public LimitedLoad Axle(int axle) => new(
        Evaluate(LinearForm.OfAxle(_judged.Map, axle)),
        Closest(key => key.Element == axle && key.Kind is (MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating)));

    public LimitedLoad Gross()
    {
        var combination = _lane.Setup.Combination;
        var alone = combination.Bodies.Length == 1;
        return new LimitedLoad(
            Evaluate(_judged.Gross),
            Closest(key => key.Kind == MarginKind.CombinationGross || alone && key.Kind == MarginKind.Gross));
    }

    public ImmutableArray<PayloadView> Payloads() =>
        [.. _lane.Setup.Combination.Bodies.Where(b => b.StateIndex >= 0).Select(b => new PayloadView(b, Payload(b.StateIndex)))];

    private Estimated Evaluate(LinearForm form) => _lane.Setup.Estimator.Evaluate(_estimate, _lane.State.Known, form);

    private Estimated Payload(int index)
    {
        var variance = _estimate.Covariance[index * _estimate.States + index];
        foreach (var moved in _estimate.Sensitivity.Slice(index * _estimate.Errors, _estimate.Errors)) variance += moved * moved;
        return new Estimated(Math.Max(0, _estimate.State[index]), Math.Sqrt(variance));
    }

    private Verdict? Closest(Func<MarginKey, bool> concerns)
    {
        Verdict? closest = null;
        for (var i = 0; i < _excesses.Length; i++)
        {
            if (!concerns(_judged.Margins[i].Key)) continue;
            var verdict = _judged.VerdictOf(i, _excesses[i], _estimate);
            if (closest is not { } least || verdict.Excess.Mean > least.Excess.Mean) closest = verdict;
        }

        return closest;
    }
}

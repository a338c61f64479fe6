using System.Collections.Immutable;
using System.Numerics;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Judges the loads in hand against every limit, and the configuration against the others that are permitted.</summary>
internal sealed class Judgement(LaneSetup setup, LaneState state, Choices choices, RunningAccount account, BorderLaw border)
{
    private const double RaisedTooLong = 120;
    private const int IdleReadings = 2;

    // Before anything is measured: how often a lift's control fails, and how often a lift switch is wrong. Common practice.
    private const double ControlFails = 0.02, SwitchLies = 0.01;

    /// <summary>A settled reading was taken.</summary>
    public void Settled(long at, List<LaneOutput> outputs)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        if (setup.TableAt(state.Place.Stack).At(configuration, state.Payload.State) is not { } judged) return;
        var aided = JudgeMargins(judged, at, outputs);
        for (var liftable = setup.Liftable; liftable != 0; liftable &= liftable - 1)
        {
            var a = BitOperations.TrailingZeroCount(liftable);
            Tell(setup.Catalog.OfAxle(FindingKind.MovingOffAid, a), (aided >> a & 1) != 0, 1, at, outputs, null);
        }

        JudgeIdle(judged, at, outputs);
        JudgeLifts(judged, at, outputs);
    }

    /// <summary>The configuration changed: open episodes are looked at once more, nothing counts towards opening.</summary>
    public void Reconfigured(long at, List<LaneOutput> outputs)
    {
        if (state.Payload.Readings > 0 && state.Load.MayHaveChanged == 0
            && setup.TableAt(state.Place.Stack).At(ConfigurationRule.Now(setup, state), state.Payload.State) is { } judged)
            JudgeMargins(judged, at, outputs);
        NewLoad();
        for (var a = 0; a < state.Axles.Length; a++)
        {
            state.Axles[a].RaisedOverSince = 0;
            EndIdle(a, at, outputs);
            Tell(setup.Catalog.OfAxle(FindingKind.AutomaticLoweringDidNotAct, a), false, 1, at, outputs, null);
            Tell(setup.Catalog.OfAxle(FindingKind.MovingOffAid, a), false, 1, at, outputs, null);
        }
    }

    /// <summary>The load may be another from now on: what is said of running on with this one ends.</summary>
    public void LoadInDoubt(long at, List<LaneOutput> outputs)
    {
        for (var i = 0; i < setup.Catalog.Margins.Length; i++)
            Tell(setup.Catalog.CannotTell(i), false, IdleReadings, at, outputs, null);
        for (var a = 0; a < state.Axles.Length; a++)
        {
            EndIdle(a, at, outputs);
            Tell(setup.Catalog.OfAxle(FindingKind.MovingOffAid, a), false, 1, at, outputs, null);
        }
    }

    /// <summary>Somebody says why an axle stands as it does: that it costs is no news to them. The account goes on counting it.</summary>
    public void Excuse(int axle, long at, List<LaneOutput> outputs) => EndIdle(axle, at, outputs);

    private void EndIdle(int axle, long at, List<LaneOutput> outputs)
    {
        Tell(setup.Catalog.OfAxle(FindingKind.LoweredForNothing, axle), false, IdleReadings, at, outputs, null);
        TellCost(setup.Catalog.OfAxle(FindingKind.RaisedForNothing, axle), false, 0, at, outputs);
    }

    /// <summary>Other limits hold from now on: what was driven until here was driven under these, and nothing gathered towards opening counts any more.</summary>
    public void LawEnds()
    {
        account.Reconfigured();
        NewLoad();
    }

    /// <summary>What was gathered towards opening belongs to another load.</summary>
    public void NewLoad()
    {
        for (var i = 0; i < setup.Catalog.Margins.Length; i++)
        {
            EpisodeTracker.Forget(ref state.Episodes[i]);
            EpisodeTracker.Forget(ref state.Episodes[setup.Catalog.CannotTell(i)]);
        }
    }

    /// <summary>Standing at a loading place: warns once per level, enters nothing.</summary>
    public void Standing(long at, List<LaneOutput> outputs)
    {
        var configuration = ConfigurationRule.Now(setup, state);
        if (setup.TableAt(state.Place.Stack).At(configuration, state.Provisional.State) is not { } judged) return;
        var before = outputs.Count;
        Span<Estimated> excesses = stackalloc Estimated[judged.Margins.Length];
        judged.JudgeAll(setup.Estimator, state.Provisional, state.Known, excesses);
        for (var i = 0; i < excesses.Length; i++)
        {
            var verdict = judged.VerdictOf(i, excesses[i], state.Provisional);
            var slot = setup.Catalog.IndexOf(verdict.Margin.Key);
            if (slot < 0) continue;
            var level = Lesser(verdict.Level, setup.MostSure(verdict.Margin.Key.Body));
            // What an open episode already says is no news at this stop.
            if (level < Level.Likely || verdict.CannotTell || state.Told[slot] >= (byte)level || state.Episodes[slot].Level >= level) continue;
            state.Told[slot] = (byte)level;
            outputs.Add(new LaneOutput.Provisional(new Moment(at), setup.Catalog.Keys[slot], level, Detail(verdict, judged, i, state.Provisional)));
        }

        ToldTogether.Arrange(outputs, before);
    }

    /// <summary>Judges every limit, and says by a bit for each which axles' moving-off aid explains that one is passed.</summary>
    private uint JudgeMargins(JudgedConfiguration judged, long at, List<LaneOutput> outputs)
    {
        var (before, aided) = (outputs.Count, 0u);
        Span<bool> present = stackalloc bool[setup.Catalog.Margins.Length];
        present.Clear();
        var undecided = state.Place.Kind == (int)PlaceKind.Undecided && state.Place.StackAcross != state.Place.Stack;
        Span<Estimated> excesses = stackalloc Estimated[judged.Margins.Length];
        judged.JudgeAll(setup.Estimator, state.Payload, state.Known, excesses);
        for (var i = 0; i < excesses.Length; i++)
        {
            var verdict = judged.VerdictOf(i, excesses[i], state.Payload);
            var slot = setup.Catalog.IndexOf(verdict.Margin.Key);
            if (slot < 0) continue;
            present[slot] = true;
            // With a trailer that another vehicle claims nobody knows what all of it is.
            if (verdict.Margin.Key.Body < 0 && state.Load.Claims == (long)TrailerClaims.Lost) continue;
            // On which side of the border it is cannot be told, and there it is another: neither counts.
            if (undecided && !border.IsSame(slot, state.Place.StackAcross)) continue;
            if (MovesOff(judged, verdict) is var aid and not 0)
            {
                aided |= aid;
                continue;
            }

            var deviations = verdict.CannotTell ? Math.Min(verdict.Deviations, Levels.LikelyFrom - 1e-9) : verdict.Deviations;
            TellMargin(slot, deviations, judged, i, verdict, at, outputs);
            if (verdict.Binds)
                Tell(setup.Catalog.CannotTell(slot), verdict.CannotTell, IdleReadings, at, outputs, null, judged, i);
        }

        for (var slot = 0; slot < present.Length; slot++)
        {
            if (present[slot]) continue;
            Tell(slot, false, 1, at, outputs, null);
            Tell(setup.Catalog.CannotTell(slot), false, 1, at, outputs, null);
        }

        ToldTogether.Arrange(outputs, before);
        return aided;
    }

    private void TellMargin(int slot, double deviations, JudgedConfiguration judged, int margin, in Verdict verdict, long at, List<LaneOutput> outputs)
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, deviations, setup.MostSure(verdict.Margin.Key.Body), at, state.Motion.Metres);
        if (episode.Level != Level.Clear) episode.Peak = Math.Max(episode.Peak, verdict.Excess.Mean);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since),
            Detail(verdict, judged, margin, state.Payload)));
    }

    private static Level Lesser(Level a, Level b) => a < b ? a : b;

    private FindingDetail.Excess Detail(in Verdict verdict, JudgedConfiguration judged, int margin, PayloadEstimate estimate) =>
        LaneSaying.Excess(setup, state, (verdict, judged, margin), estimate);

    /// <summary>While moving off with the maker's aid the driving axle may carry more for a moment: the bit of the axle that is up or relieved for it; 0 where none is.</summary>
    private uint MovesOff(JudgedConfiguration judged, in Verdict verdict)
    {
        var key = verdict.Margin.Key;
        // A tyre's capacity is stated for the speed driven; at walking pace it carries more than the aid adds.
        if (key.Kind is not (MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating) || key.Element < 0) return 0;
        var driving = setup.Combination.Axles[key.Element];
        if (driving.Axle.Role != AxleRole.Drive || state.Motion.HasBeenFast != 0 || verdict.Excess.Mean <= 0) return 0;
        for (var relieved = judged.Map.Configuration.Raised | judged.Map.Configuration.Unloaded; relieved != 0; relieved &= relieved - 1)
        {
            var axle = setup.Combination.Axles[BitOperations.TrailingZeroCount(relieved)];
            if (axle.Body != driving.Body || axle.Axle.Lift is not { MovingOffAid: > 0 } lift) continue;
            if (verdict.Excess.Mean <= lift.MovingOffAid * verdict.Scale) return 1u << axle.Index;
        }

        return 0;
    }

    /// <summary>Running with an axle down although everything would hold, surely and with room to spare, and cheaper with it raised; or with one raised although it is cheaper lowered.</summary>
    private void JudgeIdle(JudgedConfiguration present, long at, List<LaneOutput> outputs)
    {
        if (setup.Liftable == 0) return;
        var now = present.Map.Configuration;
        // Moving off and manoeuvring have their own reasons, and a load that is too much is told as such.
        var best = state.Motion.HasBeenFast == 0 || !choices.Holds(present) ? present : choices.Cheapest(present, account.DrivingNow());
        var lost = ReferenceEquals(best, present) ? 0 : choices.MoneyPer100Km(present, best, account.DrivingNow());
        var told = lost >= setup.Terms.ToldFrom;
        var (idle, raised) = told ? (best.Map.Configuration.Raised & ~now.Raised, now.Raised & ~best.Map.Configuration.Raised) : (0u, 0u);
        for (var liftable = setup.Liftable; liftable != 0; liftable &= liftable - 1)
        {
            var a = BitOperations.TrailingZeroCount(liftable);
            var mayBeTold = ReasonRule.Of(state.Axles[a], at) == LiftReason.None;
            Tell(setup.Catalog.OfAxle(FindingKind.LoweredForNothing, a), mayBeTold && (idle >> a & 1) != 0 && MayBeDown(a), IdleReadings, at, outputs, told ? best : null);
            TellCost(setup.Catalog.OfAxle(FindingKind.RaisedForNothing, a), mayBeTold && (raised >> a & 1) != 0, lost, at, outputs);
        }
    }

    private void TellCost(int slot, bool holds, double lost, long at, List<LaneOutput> outputs)
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, holds, IdleReadings, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        FindingDetail detail = change == EpisodeChange.Closed ? new FindingDetail.None() : new FindingDetail.Measured(lost, setup.Terms.Currency + "/100 km");
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since), detail));
    }

    /// <summary>False for an axle that is said to be down, and whose own circuit shows no more than a raised one may: perhaps it is up, and the switch lies.</summary>
    private bool MayBeDown(int axle)
    {
        foreach (var sensor in setup.Combination.Sensors)
            if (sensor.Axles.Length == 1 && sensor.Axles[0] == axle)
                return LiftWatch.HoldsPressure(sensor, state);
        return true;
    }

    /// <summary>Surely over with a lift up above 30 km/h for two minutes: the automatic lowering should have acted.</summary>
    private void JudgeLifts(JudgedConfiguration judged, long at, List<LaneOutput> outputs)
    {
        var now = judged.Map.Configuration;
        for (var raised = now.Raised; raised != 0; raised &= raised - 1)
        {
            var a = BitOperations.TrailingZeroCount(raised);
            ref var axle = ref state.Axles[a];
            var over = MostOver(judged, a);
            if (over < Levels.SurelyFrom) axle.RaisedOverSince = 0;
            else if (axle.RaisedOverSince == 0 && SettledGate.SpeedOf(state.Motion) >= MotionState.MovingOffBelow) axle.RaisedOverSince = at;
            var failed = axle.RaisedOverSince != 0 && MotionTracker.Seconds(axle.RaisedOverSince, at) >= RaisedTooLong;
            TellFailed(setup.Catalog.OfAxle(FindingKind.AutomaticLoweringDidNotAct, a), failed, over, at, outputs);
        }
    }

    /// <summary>Standard deviations by which a limit of the axle's own vehicle is passed that lowering the axle would restore.</summary>
    private double MostOver(JudgedConfiguration judged, int axle)
    {
        var most = 0.0;
        if (setup.TableAt(state.Place.Stack).At(judged.Map.Configuration.With(axle, AxleState.Loaded), state.Payload.State) is not { } lowered) return 0;
        for (var i = 0; i < judged.Margins.Length; i++)
        {
            var key = judged.Margins[i].Key;
            if (key.Kind is not (MarginKind.Axle or MarginKind.AxleRating or MarginKind.Group) || key.Body != setup.Combination.Axles[axle].Body) continue;
            if (setup.MostSure(key.Body) < Level.Surely) continue;
            var verdict = judged.Judge(i, setup.Estimator, state.Payload, state.Known);
            if (verdict.Deviations > most && HoldsIn(lowered, key)) most = verdict.Deviations;
        }

        return most;
    }

    private bool HoldsIn(JudgedConfiguration judged, MarginKey key)
    {
        for (var i = 0; i < judged.Margins.Length; i++)
            if (judged.Margins[i].Key == key && judged.IsPassed(i, state.Payload, state.Known))
                return false;
        return true;
    }

    private void TellFailed(int slot, bool failed, double deviations, long at, List<LaneOutput> outputs)
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, failed, 1, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        FindingDetail detail = change == EpisodeChange.Closed ? new FindingDetail.None() : Why(deviations);
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since), detail));
    }

    private static FindingDetail.DidNotAct Why(double deviations)
    {
        var over = Statistics.Normal.Cdf(deviations);
        double mechanism = ControlFails * over, calibration = 1 - over, lies = SwitchLies;
        var all = mechanism + calibration + lies;
        return new FindingDetail.DidNotAct(mechanism / all, calibration / all, lies / all);
    }

    private void Tell(int slot, bool holds, int readings, long at, List<LaneOutput> outputs, JudgedConfiguration? raised, JudgedConfiguration? judged = null, int margin = -1)
    {
        ref var episode = ref state.Episodes[slot];
        var since = episode.OpenSince;
        var change = EpisodeTracker.Take(ref episode, holds, readings, at, state.Motion.Metres);
        if (change == EpisodeChange.None) return;
        if (episode.OpenSince != 0) since = episode.OpenSince;
        FindingDetail detail = raised is not null ? Idle(raised)
            : judged is not null ? Detail(judged.Judge(margin, setup.Estimator, state.Payload, state.Known), judged, margin, state.Payload)
            : new FindingDetail.None();
        outputs.Add(new LaneOutput.Episode(new Moment(at), setup.Catalog.Keys[slot], change, episode.Level, new Moment(since), detail));
    }

    private FindingDetail.Idle Idle(JudgedConfiguration raised)
    {
        var present = setup.Model.MapAt(ConfigurationRule.Now(setup, state), state.Payload.State)!;
        var now = RollingCost.Of(setup.Combination, present, state.Payload.State);
        var then = RollingCost.Of(setup.Combination, raised.Map, state.Payload.State);
        var axles = raised.Map.Configuration.Raised & ~present.Configuration.Raised;
        return new FindingDetail.Idle(
            [.. Enumerable.Range(0, 32).Where(i => (axles >> i & 1) != 0)],
            now.TyreNewtons - then.TyreNewtons,
            (now.TurningAxles - then.TurningAxles) * RollingResistance.HubDragNewtons,
            setup.RemediesAt(state.Place.Stack).Worst(raised, state.Payload, state.Known, state.Payload.State)!.Value);
    }
}

/// <summary>What rests on a circuit that feels one side only is never sure.</summary>
internal sealed class OneSidedRule
{
    private readonly bool[] _bodies;
    private readonly bool _any;

    public OneSidedRule(LaneSetup setup)
    {
        _bodies = new bool[setup.Combination.Bodies.Length];
        foreach (var circuit in setup.Estimator.Circuits)
        {
            if (!circuit.OneSided) continue;
            _bodies[circuit.Part.Body] = true;
            TouchAhead(setup.Combination, circuit.Part.Body);
            TouchBehind(setup.Combination, circuit.Part.Body);
            _any = true;
        }
    }

    // A trailer's load is part of what its tractor carries, and of what that one rests on.
    private void TouchAhead(Combination combination, int body)
    {
        if (body > 0) _bodies[body - 1] = true;
        for (; body > 0 && combination.Bodies[body].Vehicle.Kind.RestsOnCoupling(); body--) _bodies[body - 1] = true;
    }

    // What rests on it without a circuit of its own is known by what it puts on it alone.
    private void TouchBehind(Combination combination, int body)
    {
        for (var b = body + 1; b < _bodies.Length && combination.Bodies[b].Vehicle is { Sensors.IsEmpty: true } vehicle && vehicle.Kind.RestsOnCoupling(); b++) _bodies[b] = true;
    }

    public bool Touches(int body) => body < 0 ? _any : _bodies[body];
}

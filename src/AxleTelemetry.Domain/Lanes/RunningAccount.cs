using System.Numerics;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.RoadWear;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Adds up what running costs, a stretch of about a kilometre at a time: the loads in hand, the configuration driven, and what the others would
/// have cost. A stretch ends wherever load, configuration or day change. After a stop it waits for the load to be known.
/// </summary>
internal sealed class RunningAccount(LaneSetup setup, LaneState state, Choices choices)
{
    private const long DayMilliseconds = 86_400_000;
    private const double StretchMetres = 1000, MostMetres = 50_000, TellEvery = 600;
    private const double HighPart = 0.95;
    private const double Lately = 60;

    // A lift takes seconds: longer, its unit was off in between.
    private const double LongestLift = 120;

    private ref AccountState Account => ref state.Account;

    /// <summary>A reading came: the day may be another.</summary>
    public void NoticeDay(long at, List<LaneOutput> outputs)
    {
        // Asked with every reading: a day is left once, and a division takes as long as a good part of a step.
        if (at - Account.Day * DayMilliseconds < DayMilliseconds && Account.Begin != 0) return;
        var day = Math.DivRem(at, DayMilliseconds).Quotient;
        if (Account.Begin == 0) Begin(at, day);
        else if (day > Account.Day)
        {
            Close(at, outputs);
            Begin(day * DayMilliseconds, day);
        }
    }

    /// <summary>The period ends here, or the vehicles are parted: what is open is added and told.</summary>
    public void Close(long at, List<LaneOutput> outputs)
    {
        Add();
        Tell(at, outputs);
    }

    /// <summary>What was added so far begins anew; the odometer goes on from another lane.</summary>
    public void Begin(long at) => Begin(at, Math.DivRem(at, DayMilliseconds).Quotient);

    /// <summary>A speed came, with the rest of the position.</summary>
    public void TakeSpeed(long at, List<LaneOutput> outputs)
    {
        var now = MotionTracker.Now(state.Motion, at);
        var gap = MotionTracker.Seconds(Account.SpeedAt, at);
        if (now == Movement.Rolling && Account.SpeedAt != 0 && gap is > 0 and <= MotionTracker.LongestGap) Account.Seconds += gap;
        Account.SpeedAt = at;
        if (now == Movement.Rolling && state.Motion.HeadingAt == at) CurveTracker.Take(ref Account.Curve, state.Motion, at);
        var metres = state.Motion.Metres - Account.FromMetres;
        if (metres >= (IsKnown() ? StretchMetres : MostMetres)) Add();
        if (now == Movement.Rolling && MotionTracker.Seconds(Account.ToldAt, at) >= TellEvery) Tell(at, outputs);
    }

    /// <summary>A settled reading was taken: the load is known, and what waited for it is added.</summary>
    public void Settled() => Add();

    /// <summary>From now on the load may be another, or is: what was driven is added with the one in hand.</summary>
    public void LoadEnds(long at, List<LaneOutput> outputs)
    {
        Add();
        Tell(at, outputs);
    }

    /// <summary>The configuration is another from now on.</summary>
    public void Reconfigured()
    {
        Add();
        Account.Configuration = ConfigurationRule.Now(setup, state);
    }

    /// <summary>How it was driven since the last addition.</summary>
    public Driving DrivingNow() => DrivingNow(state.Motion.Metres - Account.FromMetres);

    /// <summary>A lift arrived at another end of its way.</summary>
    public void Lifted(int axle, LiftReport before, LiftReport now, double? seconds)
    {
        if ((before == LiftReport.Raised) == (now == LiftReport.Raised)) return;
        ref var tally = ref state.AxleTallies[axle];
        if (now == LiftReport.Raised)
        {
            tally.Raises++;
            if (seconds is not { } took || took > LongestLift) return;
            tally.TimedRaises++;
            tally.RaiseSeconds += took;
        }
        else
        {
            tally.Lowers++;
            if (seconds is not { } took || took > LongestLift) return;
            tally.TimedLowers++;
            tally.LowerSeconds += took;
        }
    }

    private void Begin(long at, long day)
    {
        state.UnitTally = default;
        state.AxleTallies.AsSpan().Clear();
        Account.Begin = at;
        Account.Day = day;
        Account.ToldAt = at;
        Account.FromMetres = state.Motion.Metres;
        Account.Seconds = 0;
        Account.Configuration = ConfigurationRule.Now(setup, state);
        CurveTracker.Restart(ref Account.Curve);
    }

    private bool IsKnown()
    {
        if (state.Load.MayHaveChanged != 0 || state.Payload.Readings == 0) return false;
        foreach (ref readonly var condition in state.Conditions.AsSpan())
            if (condition.RideOff != 0 || condition.NoAir != 0)
                return false;
        return true;
    }

    private void Tell(long at, List<LaneOutput> outputs)
    {
        Account.ToldAt = at;
        if (state.UnitTally.Metres <= 0 && !AnyLift()) return;
        outputs.Add(new LaneOutput.Accounted(new Moment(at), new Moment(Account.Begin), state.UnitTally, [.. state.AxleTallies]));
    }

    private bool AnyLift()
    {
        foreach (ref readonly var axle in state.AxleTallies.AsSpan())
            if (axle.Raises + axle.Lowers > 0)
                return true;
        return false;
    }

    private void Add()
    {
        var metres = state.Motion.Metres - Account.FromMetres;
        if (metres > 0)
        {
            AddGround(metres);
            if (IsKnown() && Table(Account.Configuration) is { } judged) AddKnown(judged, metres);
        }

        Account.FromMetres = state.Motion.Metres;
        Account.Seconds = 0;
        CurveTracker.Restart(ref Account.Curve);
    }

    private void AddGround(double metres)
    {
        state.UnitTally.Metres += metres;
        state.UnitTally.Seconds += Account.Seconds;
        for (var a = 0; a < state.AxleTallies.Length; a++)
            if (Account.Configuration[a] == AxleState.Raised) state.AxleTallies[a].RaisedMetres += metres;
            else state.AxleTallies[a].GroundMetres += metres;
    }

    private void AddKnown(JudgedConfiguration judged, double metres)
    {
        Span<double> loads = stackalloc double[state.AxleTallies.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.AxleTallies.Length];
        var driving = DrivingNow(metres);
        var driven = choices.WorkOf(judged, driving, metres, loads, works);
        AddAxles(loads, works, metres);
        AddJudged(judged, metres);
        ref var unit = ref state.UnitTally;
        unit.KnownMetres += metres;
        unit.CurveMetres += Math.Min(metres, CurveTracker.Of(Account.Curve).Metres);
        unit.Driven += driven;
        var wear = WearOf(judged, loads);
        unit.Aashto += wear.Aashto * metres;
        unit.FourthPower += wear.FourthPower * metres;
        AddLowered(judged, driving, metres);
        AddChoices(judged, driven, driving, metres);
    }

    /// <summary>How the stretch since the last addition was driven.</summary>
    private Driving DrivingNow(double metres) => new(
        Account.Seconds > 0 ? metres / Account.Seconds : setup.Terms.Rules.RoadSpeed, CurveTracker.Of(Account.Curve).Bends);

    private void AddAxles(ReadOnlySpan<double> loads, ReadOnlySpan<AxleWork> works, double metres)
    {
        for (var a = 0; a < loads.Length; a++)
        {
            ref var axle = ref state.AxleTallies[a];
            if (!works[a].Turns) continue;
            axle.KnownMetres += metres;
            axle.LoadMetres += loads[a] * metres;
            axle.TyreJoules += works[a].TyreNewtons * metres;
            axle.ScrubJoules += works[a].ScrubNewtons * metres;
            axle.Tread += works[a].TreadNewtons * metres / 1e6;
            axle.FourthPower += AxleEquivalence.FourthPower(loads[a]) * metres;
            var described = setup.Combination.Axles[a].Axle;
            if (loads[a] > HighPart * Math.Min(described.Rating.Kilograms, described.Tyres.Capacity.Kilograms)) axle.HighSeconds += Account.Seconds;
            if (SidesOf(a) is not { } left) continue;
            axle.SidesMetres += metres;
            axle.LeftMetres += left * metres;
        }
    }

    /// <summary>Left less right as a fraction of both, where each side has its circuit and both were heard lately.</summary>
    private double? SidesOf(int axle)
    {
        double left = 0, right = 0;
        foreach (var sensor in setup.Combination.Sensors)
        {
            if (sensor.Sensor.Side == CircuitSide.Both || sensor.Axles[0] != axle || MotionTracker.Seconds(state.Sensors[sensor.Index].MeanAt, state.Motion.LastReadingAt) > Lately) continue;
            var load = setup.Estimator.Circuits[sensor.Index].Fit.At(state.Sensors[sensor.Index].Mean);
            if (sensor.Sensor.Side == CircuitSide.Left) left = load;
            else right = load;
        }

        return left > 0 && right > 0 ? (left - right) / (left + right) : null;
    }

    private void AddJudged(JudgedConfiguration judged, double metres)
    {
        bool over = false, unknown = false;
        Span<Estimated> excesses = stackalloc Estimated[judged.Margins.Length];
        judged.JudgeAll(setup.Estimator, state.Payload, state.Known, excesses);
        for (var i = 0; i < excesses.Length; i++)
        {
            var verdict = judged.VerdictOf(i, excesses[i], state.Payload);
            if (!verdict.Binds) continue;
            over |= verdict.Excess.Mean > 0;
            unknown |= verdict.CannotTell;
        }

        var gross = setup.Estimator.Evaluate(state.Payload, state.Known, judged.Gross);
        ref var unit = ref state.UnitTally;
        if (over) unit.OverMetres += metres;
        if (unknown) unit.CannotTellMetres += metres;
        unit.GrossMetres += gross.Mean * metres;
        unit.GrossSdMetres += gross.Sd * metres;
    }

    private void AddLowered(JudgedConfiguration judged, in Driving driving, double metres)
    {
        Span<double> loads = stackalloc double[state.AxleTallies.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.AxleTallies.Length];
        // Where the load cannot stand with every axle lowered, nothing is said of it: as driven.
        var lowered = Table(Account.Configuration with { Raised = 0, Unloaded = 0, AtCeiling = 0 }) ?? judged;
        state.UnitTally.Lowered += choices.WorkOf(lowered, driving, metres, loads, works);
        state.UnitTally.AashtoLowered += WearOf(lowered, loads).Aashto * metres;
        for (var a = 0; a < works.Length; a++) state.AxleTallies[a].TyreJoulesLowered += works[a].TyreNewtons * metres;
    }

    private WearOfPass WearOf(JudgedConfiguration judged, ReadOnlySpan<double> loads) =>
        WearGroups.Pass(setup.Combination, judged.Map.Configuration, loads, setup.Terms.Pavement);

    private void AddChoices(JudgedConfiguration present, in RoadWork driven, in Driving driving, double metres)
    {
        Span<double> loads = stackalloc double[state.AxleTallies.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.AxleTallies.Length];
        var now = present.Map.Configuration;
        var best = choices.Cheapest(present, driving);
        var cheapest = choices.WorkOf(best, driving, metres, loads, works);
        for (var a = 0; a < works.Length; a++) state.AxleTallies[a].TyreJoulesCheapest += works[a].TyreNewtons * metres;
        state.UnitTally.Cheapest += cheapest;
        AddLiftable(now, best.Map.Configuration, driven, cheapest, driving, metres);
    }

    /// <summary>What each liftable axle has to do with it: what is wasted is shared among the axles that stand otherwise than they should.</summary>
    private void AddLiftable(in Configuration now, in Configuration best, in RoadWork driven, in RoadWork cheapest, in Driving driving, double metres)
    {
        Span<double> loads = stackalloc double[state.AxleTallies.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.AxleTallies.Length];
        var otherwise = now.Raised ^ best.Raised;
        var wasted = Share(driven - cheapest, BitOperations.PopCount(otherwise));
        for (var liftable = setup.Liftable; liftable != 0; liftable &= liftable - 1)
        {
            var a = BitOperations.TrailingZeroCount(liftable);
            ref var axle = ref state.AxleTallies[a];
            if ((otherwise >> a & 1) != 0)
                if ((best.Raised >> a & 1) != 0) axle.LoweredForNothing += wasted;
                else axle.RaisedForNothing += wasted;
            if (now[a] != AxleState.Raised || Table(now.With(a, AxleState.Loaded)) is not { } lowered) continue;
            axle.Saved += choices.WorkOf(lowered, driving, metres, loads, works) - driven;
        }
    }

    private JudgedConfiguration? Table(in Configuration configuration) => setup.TableAt(state.Place.Stack).At(configuration, state.Payload.State);

    private static RoadWork Share(in RoadWork work, int among) => among <= 1
        ? work
        : work with { TyreJoules = work.TyreJoules / among, TurningMetres = work.TurningMetres / among, ScrubJoules = work.ScrubJoules / among, Tread = work.Tread / among };
}

using System.Numerics;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Which ways of standing of the lifts are open to a driver with the load in hand.</summary>
internal sealed class Choices(LaneSetup setup, LaneState state)
{
    private const double ToSpare = 0.03;
    private const double ColdBelow = 3;

    /// <summary>True where every limit holds as far as is known.</summary>
    public bool Holds(JudgedConfiguration judged)
    {
        for (var i = 0; i < judged.Margins.Length; i++)
            if (judged.Margins[i].Binds && judged.IsPassed(i, state.Payload, state.Known))
                return false;
        return true;
    }

    /// <summary>
    /// A way of standing that may be chosen; <c>null</c> where it may not. What lowers axles needs every limit to hold as far as is known; what raises
    /// one needs it surely, with room to spare, a control that lets it rise, and no frost that would freeze it there.
    /// </summary>
    public JudgedConfiguration? Open(in Configuration lifts, in Configuration now)
    {
        if (setup.TableAt(state.Place.Stack).At(lifts with { Modes = now.Modes }, state.Payload.State) is not { } candidate) return null;
        var risen = candidate.Map.Configuration.Raised & ~now.Raised;
        if (risen == 0) return Holds(candidate) ? candidate : null;
        return !IsCold() && HoldsToSpare(candidate) && WouldRise(risen, candidate.Map.Configuration) ? candidate : null;
    }

    /// <summary>The cheapest way of standing that may be chosen; as they stand where none is cheaper, or none may be.</summary>
    public JudgedConfiguration Cheapest(JudgedConfiguration present, in Driving driving)
    {
        Span<double> loads = stackalloc double[state.Axles.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.Axles.Length];
        var now = present.Map.Configuration;
        var best = present;
        // Nobody knows the limits of a trailer that is not described.
        if (setup.HasStandIn) return best;
        var least = Holds(present) ? setup.Terms.Price.Of(WorkOf(present, driving, 1, loads, works)) : double.PositiveInfinity;
        foreach (var lifts in setup.TableAt(state.Place.Stack).Lifts)
        {
            if ((lifts.Raised == now.Raised && now.Unloaded == 0) || Open(lifts, now) is not { } candidate) continue;
            var cost = setup.Terms.Price.Of(WorkOf(candidate, driving, 1, loads, works));
            if (cost < least) (least, best) = (cost, candidate);
        }

        return best;
    }

    /// <summary>What one way of standing costs more than another, money per 100 km.</summary>
    public double MoneyPer100Km(JudgedConfiguration now, JudgedConfiguration other, in Driving driving)
    {
        Span<double> loads = stackalloc double[state.Axles.Length];
        Span<AxleWork> works = stackalloc AxleWork[state.Axles.Length];
        var present = WorkOf(now, driving, 100_000, loads, works);
        return setup.Terms.Price.Of(present - WorkOf(other, driving, 100_000, loads, works));
    }

    /// <summary>Work in a configuration, with the loads and each axle's part of it.</summary>
    public RoadWork WorkOf(JudgedConfiguration judged, in Driving driving, double metres, Span<double> loads, Span<AxleWork> works)
    {
        for (var a = 0; a < loads.Length; a++)
            loads[a] = judged.Map.Configuration[a] == AxleState.Raised ? 0 : Math.Max(0, judged.Map.Load(a, state.Payload.State, state.Known));
        StretchWork.PerMetre(new RollingUnit(setup.Combination, judged.Map.Configuration, setup.Terms.Rules), loads, driving, works);
        return StretchWork.Sum(works, metres);
    }

    private bool HoldsToSpare(JudgedConfiguration judged)
    {
        // Where means alone leave no room, no interval does; and means are found in a fraction of the time.
        for (var i = 0; i < judged.Margins.Length; i++)
            if (judged.Margins[i].Binds && !judged.Leaves(ToSpare, i, state.Payload, state.Known))
                return false;
        Span<Estimated> excesses = stackalloc Estimated[judged.Margins.Length];
        judged.JudgeAll(setup.Estimator, state.Payload, state.Known, excesses);
        for (var i = 0; i < excesses.Length; i++)
        {
            var verdict = judged.VerdictOf(i, excesses[i], state.Payload);
            if (verdict.Binds && verdict.Excess.High > -ToSpare * verdict.Scale) return false;
        }

        return true;
    }

    private bool WouldRise(uint axles, in Configuration configuration)
    {
        for (; axles != 0; axles &= axles - 1)
            if (!LiftRule.WouldLetRise(setup.Model, state.Payload, configuration, BitOperations.TrailingZeroCount(axles)))
                return false;
        return true;
    }

    private bool IsCold() => state.Conditions[0].AmbientKnown != 0 && state.Conditions[0].Ambient < ColdBelow;
}

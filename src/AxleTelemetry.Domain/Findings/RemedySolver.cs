using System.Collections.Immutable;
using System.Numerics;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>
/// Finds what ends an overload: first an axle to set down or lift, else payload to take off or to move. Every remedy is
/// checked on all binding limits in the configuration that will be driven; one that pushes another limit over is not offered.
/// Of the removals those are dropped that ask for more than twice the least: nobody would choose them, and they hide the one
/// that would be chosen. The least itself always stays.
/// </summary>
public sealed class RemedySolver(JudgeTable table, Estimator estimator)
{
    private const double Tolerance = 1e-9;

    // Common practice.
    private const double MostOfLeast = 2;

    /// <summary>Remedies for the present state, best first; empty where nothing that is known of helps.</summary>
    public ImmutableArray<Remedy> Solve(PayloadEstimate estimate, KnownErrors known, Configuration present)
    {
        var axles = SetAxles(estimate, known, present);
        if (axles is not null) return [axles];
        var remedies = ImmutableArray.CreateBuilder<Remedy>();
        if (LeastOverloaded(estimate, known, present) is not { } driven) return [];
        foreach (var body in table.Model.Combination.Bodies.Where(b => b.StateIndex >= 0))
        {
            remedies.AddRange(TakeOffs(estimate, known, driven, body));
            if (Shift(estimate, driven, body, known) is { } shift) remedies.Add(shift);
        }

        var least = remedies.OfType<Remedy.TakeOff>().Select(t => t.Kilograms).DefaultIfEmpty(0).Min();
        return [.. remedies.Where(r => r is not Remedy.TakeOff t || t.Kilograms <= MostOfLeast * least).OrderBy(r => r is Remedy.TakeOff t ? t.Kilograms : 0)];
    }

    /// <summary>The worst of the binding limits of a configuration: most standard deviations over, or closest.</summary>
    public Verdict? Worst(JudgedConfiguration judged, PayloadEstimate estimate, KnownErrors known, ReadOnlySpan<double> state)
    {
        Verdict? worst = null;
        for (var i = 0; i < judged.Margins.Length; i++)
        {
            var verdict = judged.Judge(i, estimator, estimate, known, state);
            if (verdict.Binds && (worst is not { } w || verdict.Deviations > w.Deviations)) worst = verdict;
        }

        return worst;
    }

    private Remedy.SetAxles? SetAxles(PayloadEstimate estimate, KnownErrors known, Configuration present)
    {
        (Configuration Configuration, Verdict Tightest, int Moves)? best = null;
        foreach (var lifts in table.Lifts)
        {
            var candidate = lifts with { Modes = present.Modes };
            var moves = BitOperations.PopCount((candidate.Raised ^ present.Raised) | (present.Unloaded & ~candidate.Raised));
            if (moves == 0 || table.At(candidate, estimate.State) is not { } judged) continue;
            if (Worst(judged, estimate, known, estimate.State) is not { } worst || worst.Excess.Mean > 0) continue;
            // Surely enough is enough: then the fewest moves win. Below that, the surest.
            var sure = worst.Deviations <= -Levels.SurelyFrom;
            var better = best is not { } b || (sure && b.Tightest.Deviations <= -Levels.SurelyFrom
                ? moves < b.Moves || (moves == b.Moves && worst.Deviations < b.Tightest.Deviations)
                : worst.Deviations < b.Tightest.Deviations);
            if (better) best = (judged.Map.Configuration, worst, moves);
        }

        if (best is not { } found) return null;
        var raised = found.Configuration.Raised;
        return new Remedy.SetAxles(
            Axles((present.Raised & ~raised) | (present.Unloaded & ~raised)),
            Axles(raised & ~present.Raised),
            found.Configuration,
            found.Tightest,
            Undone(estimate, found.Configuration, raised & ~present.Raised));
    }

    /// <summary>Axles whose automatic control would set them down again: a neighbour would carry more than it lets it.</summary>
    private ImmutableArray<int> Undone(PayloadEstimate estimate, Configuration then, uint raised) =>
        [.. Axles(raised).Where(a => LiftRule.WouldLower(table.Model, estimate, then, a))];

    private static ImmutableArray<int> Axles(uint bits) => [.. Enumerable.Range(0, 32).Where(i => (bits >> i & 1) != 0)];

    /// <summary>The configuration in which the worst limit is passed least, in kilograms: the one to drive after taking payload off.</summary>
    private JudgedConfiguration? LeastOverloaded(PayloadEstimate estimate, KnownErrors known, Configuration present)
    {
        JudgedConfiguration? best = null;
        var least = double.PositiveInfinity;
        foreach (var lifts in table.Lifts)
        {
            if (table.At(lifts with { Modes = present.Modes }, estimate.State) is not { } judged) continue;
            var excess = GreatestExcess(judged, estimate, known);
            // With equal excess prefer to leave the axles as they are.
            if (excess > least + Tolerance || (excess >= least - Tolerance && lifts.Raised != present.Raised && best is not null)) continue;
            least = excess;
            best = judged;
        }

        return best;
    }

    private double GreatestExcess(JudgedConfiguration judged, PayloadEstimate estimate, KnownErrors known)
    {
        var greatest = double.NegativeInfinity;
        for (var i = 0; i < judged.Margins.Length; i++)
        {
            var verdict = judged.Judge(i, estimator, estimate, known);
            if (verdict.Binds) greatest = Math.Max(greatest, verdict.Excess.Mean);
        }

        return greatest;
    }

    private IEnumerable<Remedy.TakeOff> TakeOffs(PayloadEstimate estimate, KnownErrors known, JudgedConfiguration driven, BodyPart body)
    {
        var space = body.Vehicle.LoadSpace!;
        var payload = estimate.State[body.StateIndex];
        var centre = payload > 500 ? Math.Clamp(estimate.State[body.StateIndex + 1] / payload, space.Front.Metres, space.Rear.Metres) : space.Centre.Metres;
        var offers = new List<Remedy.TakeOff>();
        foreach (var (place, x) in new[] { (LoadPlace.Front, space.Front.Metres), (LoadPlace.Centre, centre), (LoadPlace.Rear, space.Rear.Metres) })
        {
            var toLimit = Removal(estimate, known, driven, body, x, 0);
            if (toLimit is not { } kilograms || kilograms <= 0 || !IsThere(estimate, driven, body, x, kilograms)) continue;
            var sure = Removal(estimate, known, driven, body, x, Levels.SurelyFrom);
            offers.Add(new Remedy.TakeOff(body.Index, place, x, kilograms,
                sure is { } enough && IsThere(estimate, driven, body, x, enough) ? enough : null, driven.Map.Configuration));
        }

        return offers;
    }

    /// <summary>True where so much can be taken off at a place: what is left has its centre within the load space, and the vehicle still stands on all its axles.</summary>
    private bool IsThere(PayloadEstimate estimate, JudgedConfiguration driven, BodyPart body, double x, double kilograms)
    {
        var left = estimate.State.ToArray();
        left[body.StateIndex] -= kilograms;
        left[body.StateIndex + 1] -= kilograms * x;
        var space = body.Vehicle.LoadSpace!;
        double mass = left[body.StateIndex], moment = left[body.StateIndex + 1];
        return mass >= 0
            && moment >= mass * space.Front.Metres - Tolerance && moment <= mass * space.Rear.Metres + Tolerance
            && table.At(driven.Map.Configuration, left) is not null;
    }

    /// <summary>
    /// Least mass to take off at a place so that every binding limit holds by so many standard deviations; <c>null</c>
    /// where taking off there cannot do it, or pushes another limit over.
    /// </summary>
    private double? Removal(PayloadEstimate estimate, KnownErrors known, JudgedConfiguration driven, BodyPart body, double x, double deviations)
    {
        var state = estimate.State.ToArray();
        var removal = 0.0;
        // The spread depends on what is left, a little: a few passes settle it.
        for (var pass = 0; pass < 12; pass++)
        {
            double least = 0, most = double.PositiveInfinity;
            for (var i = 0; i < driven.Margins.Length; i++)
            {
                var after = driven.Judge(i, estimator, estimate, known, state);
                if (!after.Binds) continue;
                var perKilogram = driven.PerKilogram(i, body, x);
                // Nothing can be sure of a limit that cannot be told: it shall hold as far as is known, and says so itself.
                var asked = driven.Judge(i, estimator, estimate, known).CannotTell ? 0 : deviations;
                // Excess at the unchanged payload, with the spread that holds after the removal.
                var excess = after.Excess.Mean + removal * perKilogram + asked * after.Excess.Sd;
                if (perKilogram > Tolerance) least = Math.Max(least, excess / perKilogram);
                else if (perKilogram < -Tolerance) most = Math.Min(most, excess / perKilogram);
                else if (excess > 0) return null;
            }

            if (least > most + Tolerance) return null;
            var moved = Math.Abs(least - removal);
            removal = least;
            if (moved < 0.01) return removal;
            estimate.State.CopyTo(state);
            state[body.StateIndex] -= removal;
            state[body.StateIndex + 1] -= removal * x;
        }

        return removal;
    }

    private Remedy.Shift? Shift(PayloadEstimate estimate, JudgedConfiguration driven, BodyPart body, KnownErrors known)
    {
        double low = double.NegativeInfinity, high = double.PositiveInfinity;
        for (var i = 0; i < driven.Margins.Length; i++)
        {
            var verdict = driven.Judge(i, estimator, estimate, known);
            if (!verdict.Binds) continue;
            var perMoment = driven.PerMoment(i, body);
            if (perMoment > Tolerance) high = Math.Min(high, -verdict.Excess.Mean / perMoment);
            else if (perMoment < -Tolerance) low = Math.Max(low, -verdict.Excess.Mean / perMoment);
            else if (verdict.Excess.Mean > 0) return null;
        }

        var payload = estimate.State[body.StateIndex];
        if (low > high || payload < 500 || (low <= 0 && high >= 0)) return null;
        // The smallest shift that does it: the bound nearest to zero.
        var moment = low > 0 ? low : high;
        var space = body.Vehicle.LoadSpace!;
        var reach = (space.Rear.Metres - space.Front.Metres) / 2;
        // A load fills some of its space: its centre cannot leave the middle half of it.
        var centre = (estimate.State[body.StateIndex + 1] + moment) / payload;
        if (centre < space.Front.Metres + reach / 4 || centre > space.Rear.Metres - reach / 4) return null;
        var mass = Math.Min(payload, Math.Max(500, Math.Ceiling(Math.Abs(moment) / reach / 100) * 100));
        return new Remedy.Shift(body.Index, moment / payload, mass, moment / mass, driven.Map.Configuration);
    }
}

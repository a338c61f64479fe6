using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>What a driver may be shown: which axles to set how, and why. Advice: nothing here moves an axle.</summary>
/// <param name="About">What was found.</param>
/// <param name="Level">How sure it is.</param>
/// <param name="Lower">Axles to lower, counted through the combination.</param>
/// <param name="Raise">Axles to raise; empty unless the vehicle stands.</param>
public sealed record DriverAdvice(FindingKey About, Level Level, ImmutableArray<int> Lower, ImmutableArray<int> Raise)
{
    /// <summary>The finding in full where it is a limit that is passed; <c>null</c> for others.</summary>
    public LaneOutput.Episode? Finding { get; init; }

    /// <summary>The configuration that it was found in: in another one it does not hold.</summary>
    public required Configuration Present { get; init; }

    /// <inheritdoc/>
    public bool Equals(DriverAdvice? other) => other is not null && (About, Level, Present) == (other.About, other.Level, other.Present) && Lower.SequenceEqual(other.Lower) && Raise.SequenceEqual(other.Raise);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(About, Level, Present, Lower.Length, Raise.Length);
}

/// <summary>Advises by what a lane knows now, without changing it.</summary>
public static class LaneAdvising
{
    /// <summary>Longest stop, and longest time without position or pressure, over which advice holds, s.</summary>
    public const double LongestWithout = 120;

    /// <summary>
    /// The advice that holds; <c>null</c> for none: nothing is to be done with an axle, or it cannot be known any more, after a stop of more than two minutes, or
    /// without position, pressure or word of the vehicle for as long. Never to raise an axle while it moves, or while that cannot be told.
    /// </summary>
    /// <param name="lane">The lane.</param>
    /// <param name="now">The moment, by our clock.</param>
    public static DriverAdvice? Advise(this Lane lane, Moment now)
    {
        ArgumentNullException.ThrowIfNull(lane);
        if (!IsKnown(lane.State, now.UnixMilliseconds) || lane.Movement == Movement.Carried) return null;
        // As of the last reading and as of now: of a vehicle that was not heard for a minute it cannot be told.
        var stands = lane.Movement == Movement.Standing && MotionTracker.Now(lane.State.Motion, now.UnixMilliseconds) == Movement.Standing;
        if (Overload(lane, stands) is { } over) return over;
        return stands ? Idle(lane) : null;
    }

    private static bool IsKnown(LaneState state, long now)
    {
        var motion = state.Motion;
        return state.Load.MayHaveChanged == 0 && state.Payload.Readings > 0
            && !state.Conditions.Any(c => c.RideOff != 0 || c.NoAir != 0 || c.PowerTakeOff != 0 || c.BodyInUse != 0)
            && IsRecent(motion.LastReadingAt, now) && IsRecent(motion.PositionAt, now) && Measures(state, now)
            && (motion.StandsSince == 0 || IsRecent(motion.StandsSince, now));
    }

    // One circuit that fell silent is a loss as well: what the others tell of its axles is another estimate than the one advised by.
    private static bool Measures(LaneState state, long now) => state.Sensors.Any(s => s.PressureAt != 0) && state.Sensors.All(s => s.PressureAt == 0 || IsRecent(s.PressureAt, now));

    private static bool IsRecent(long at, long now) => at != 0 && MotionTracker.Seconds(at, now) <= LongestWithout;

    /// <summary>The gravest limit that is passed and that the lifts can end.</summary>
    private static DriverAdvice? Overload(Lane lane, bool stands)
    {
        DriverAdvice? best = null;
        foreach (var key in lane.Setup.Catalog.Keys)
        {
            if (key.Kind != FindingKind.Overload || lane.SayAgain(key) is not { Level: >= Level.Likely, Detail: FindingDetail.Excess excess } said) continue;
            if (!excess.Verdict.Binds || excess.Remedies.OfType<Remedy.SetAxles>().FirstOrDefault() is not { } axles) continue;
            // Lowering alone is no half of a remedy that also raises: it would be another configuration, which nobody has judged.
            if (!axles.Raise.IsEmpty && !stands) continue;
            if (best is null || said.Level > best.Level) best = new DriverAdvice(key, said.Level, axles.Lower, axles.Raise) { Finding = said, Present = lane.Configuration };
        }

        return best;
    }

    /// <summary>An axle that is down or up for nothing, only at a short stop.</summary>
    private static DriverAdvice? Idle(Lane lane)
    {
        for (var slot = 0; slot < lane.State.Episodes.Length; slot++)
        {
            var (key, level) = (lane.Setup.Catalog.Keys[slot], lane.State.Episodes[slot].Level);
            if (level == Level.Clear) continue;
            if (key.Kind == FindingKind.LoweredForNothing) return new DriverAdvice(key, level, [], [key.Element]) { Present = lane.Configuration };
            if (key.Kind == FindingKind.RaisedForNothing) return new DriverAdvice(key, level, [key.Element], []) { Present = lane.Configuration };
        }

        return null;
    }
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Follows in which country the vehicle is, and so which limits hold. Looked up anew every two hundred metres or so. A permit whose speed is passed holds no
/// more, until another load is aboard.
/// </summary>
internal sealed class PlaceWatch(LaneSetup setup, LaneState state, BorderLaw border, Judgement judgement)
{
    private const double MovedNorth = 0.0018, MovedEast = 0.0028;

    // A road towards a border need not be straight.
    private const double HeadsFor = 60;

    // A measured speed is off by some decimetres a second, and a moment on a hill is no journey: choices of this house.
    private const double FasterBy = 3 / 3.6, FasterFor = 10;

    /// <summary>A position with speed was taken.</summary>
    public void Take(long at, List<LaneOutput> outputs)
    {
        if (setup.Law.Book is null) return;
        var before = state.Place;
        var broke = !setup.Law.Permits.IsEmpty && FollowsPermits(at);
        if (!broke && !HasMoved()) return;
        LookUp(at);
        if (state.Place.Stack != before.Stack) CrossOver(before.Stack, at, outputs);
        border.Tell(IsUndecided(), HeadsAcross(), at, outputs);
    }

    /// <summary>True where a permit was broken just now, or holds again with another load.</summary>
    private bool FollowsPermits(long at)
    {
        ref var place = ref state.Place;
        var before = place.Broken;
        if (place.Broken != 0 && place.BrokenSince != state.Load.Since) place.Broken = 0;
        var tooFast = state.Motion.Speed > setup.Law.MostSpeed(place.Stack, out var permits) + FasterBy;
        if (!tooFast) place.TooFastSince = 0;
        else if (place.TooFastSince == 0) place.TooFastSince = at;
        else if (MotionTracker.Seconds(place.TooFastSince, at) >= FasterFor)
        {
            place.Broken |= permits;
            place.BrokenSince = state.Load.Since;
            place.TooFastSince = 0;
        }

        return place.Broken != before;
    }

    /// <summary>Looks the country up.</summary>
    public void LookUp(long at)
    {
        if (setup.Law.Book is null || at == 0) return;
        ref var motion = ref state.Motion;
        ref var place = ref state.Place;
        var where = setup.Law.Map.At(motion.Latitude, motion.Longitude, motion.Accuracy > 0 ? motion.Accuracy : double.NaN);
        var moment = new Moment(at);
        place = new PlaceState
        {
            At = at,
            Latitude = motion.Latitude,
            Longitude = motion.Longitude,
            BorderMetres = where.BorderMetres,
            BorderBearing = where.BorderBearing,
            Kind = (int)where.Kind,
            Here = where.Here.Number,
            Across = where.Across.Number,
            Stack = setup.Law.StackAt(where.Here, moment, place.Broken),
            StackAcross = setup.Law.StackAt(where.Across.IsNone ? where.Here : where.Across, moment, place.Broken),
            Broken = place.Broken,
            BrokenSince = place.BrokenSince,
            TooFastSince = place.TooFastSince,
        };
    }

    private bool HasMoved() => state.Place.At == 0
        || Math.Abs(state.Motion.Latitude - state.Place.Latitude) > MovedNorth || Math.Abs(state.Motion.Longitude - state.Place.Longitude) > MovedEast;

    private bool IsUndecided() => state.Place.Kind == (int)PlaceKind.Undecided && state.Place.StackAcross != state.Place.Stack;

    private bool HeadsAcross() => state.Place.Kind == (int)PlaceKind.NearBorder && state.Place.StackAcross != state.Place.Stack
        && state.Motion.HeadingAt == state.Place.At && Math.Abs(Math.IEEERemainder(state.Motion.Heading - state.Place.BorderBearing, 360)) <= HeadsFor;

    // What was driven until here was driven under the limits before.
    private void CrossOver(int before, long at, List<LaneOutput> outputs)
    {
        var now = state.Place.Stack;
        state.Place.Stack = before;
        judgement.LawEnds();
        border.Leave(now, at, outputs);
        state.Place.Stack = now;
    }
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>Follows in which country the vehicle is, and so which limits hold. Looked up anew every two hundred metres or so.</summary>
internal sealed class PlaceWatch(LaneSetup setup, LaneState state, BorderLaw border, Judgement judgement)
{
    private const double MovedNorth = 0.0018, MovedEast = 0.0028;

    // A road towards a border need not be straight.
    private const double HeadsFor = 60;

    /// <summary>A position with speed was taken.</summary>
    public void Take(long at, List<LaneOutput> outputs)
    {
        if (setup.Law.Book is null || !HasMoved()) return;
        var before = state.Place;
        LookUp(at);
        if (state.Place.Stack != before.Stack) CrossOver(before.Stack, at, outputs);
        border.Tell(IsUndecided(), HeadsAcross(), at, outputs);
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
            Stack = setup.Law.StackAt(where.Here, moment),
            StackAcross = setup.Law.StackAt(where.Across.IsNone ? where.Here : where.Across, moment),
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

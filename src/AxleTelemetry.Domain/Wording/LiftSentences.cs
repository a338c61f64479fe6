using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>How the lifts stand, in words.</summary>
internal static class LiftSentences
{
    /// <summary><c>axle 3 (tag) down</c>, <c>trailer axle 1 raised and axle 2 (pusher) down</c>; <c>all axles down</c> where nothing lifts.</summary>
    public static string Positions(Combination combination, Names names, Configuration configuration)
    {
        var liftable = combination.Axles.Where(a => a.Axle.Lift is not null).Select(a => a.Index).ToArray();
        if (liftable.Length == 0) return "all axles down";
        var states = liftable.GroupBy(a => configuration[a]).OrderByDescending(g => g.Key);
        return Names.List([.. states.Select(g => $"{names.Axles(g)} {Word(g.Key)}")]);
    }

    private static string Word(AxleState state) => state switch
    {
        AxleState.Loaded => "down",
        AxleState.Unloaded => "relieved",
        AxleState.Raised => "raised",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
    };
}

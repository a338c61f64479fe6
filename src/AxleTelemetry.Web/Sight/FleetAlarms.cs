using System.Collections.Immutable;

namespace AxleTelemetry.Web.Sight;

/// <summary>How many alarms came lately, by fleet: who answers for some fleets is held against what comes from these.</summary>
/// <param name="ByFleet">Fleets without an alarm may be missing.</param>
public sealed record FleetAlarms(ImmutableDictionary<string, AlarmBurden> ByFleet)
{
    public static FleetAlarms None { get; } = new(ImmutableDictionary<string, AlarmBurden>.Empty);

    /// <summary>What comes to whoever answers for the fleets that a test lets through.</summary>
    public AlarmBurden Of(Func<string, bool> fits)
    {
        var counts = new int[AlarmBurden.Stretches];
        foreach (var burden in ByFleet.Where(f => fits(f.Key)).Select(f => f.Value))
            for (var i = 0; i < counts.Length; i++)
                counts[i] += burden.ByTenMinutes[i];
        return new AlarmBurden([.. counts]);
    }
}

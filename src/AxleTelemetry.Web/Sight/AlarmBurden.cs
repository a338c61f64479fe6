using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Web.Sight;

/// <summary>How many alarms came lately.</summary>
/// <param name="ByTenMinutes">Alarms in each of the last six stretches of ten minutes, oldest first.</param>
public sealed record AlarmBurden(ImmutableArray<int> ByTenMinutes)
{
    /// <summary>Stretches of ten minutes in the hour that is looked at.</summary>
    public const int Stretches = 6;

    public static AlarmBurden None { get; } = new([.. new int[Stretches]]);

    /// <summary>Alarms in the last hour.</summary>
    public int PerHour => ByTenMinutes.Sum();

    /// <summary>How that sits beside what one person can manage.</summary>
    public Burden Burden => AlarmRate.BurdenOf(PerHour);

    /// <summary>More came in the last ten minutes than anybody can read.</summary>
    public bool IsFlood => ByTenMinutes[^1] > AlarmRate.FloodAbove;
}

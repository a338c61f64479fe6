using AxleTelemetry.Service.Accuracy;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Tests.Simulating;

namespace AxleTelemetry.Service.Tests.Demonstrating;

/// <summary>What the demonstration tells of its first day is so in truth: whoever sees it for the first time must be able to believe it.</summary>
public sealed class DemoTruthTests(ITestOutputHelper output)
{
    private const ulong SeedShown = 6;

    [Fact]
    public void No_overload_is_told_that_never_was()
    {
        var fleet = DemoFleet.Draw(SeedShown, 24, new DemoPace(new LeapingClock(new(2026, 3, 2, 14, 0, 0, TimeSpan.Zero))));
        var told = fleet.Vehicles.SelectMany(v => UnitRun.Run(fleet, v, 1).Told.Select(t => (v.Lead.Id, Told: t))).ToList();
        foreach (var (id, overload) in told)
            output.WriteLine(FormattableString.Invariant($"{id}: {overload.Key} told {overload.StatedSize:0.0 %} over, in truth {overload.TrueSize:0.0 %}"));
        Assert.True(told.Count >= 3);
        Assert.All(told, t => Assert.True(t.Told.TrueSize > 0, $"{t.Id}: {t.Told}"));
    }
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A moment of time that leads to nothing uses no number of a batch up.</summary>
public sealed class AfterQuietTests
{
    private static readonly Moment Start = new(1_772_431_200_000);

    [Fact]
    public void What_comes_after_a_tick_without_consequence_is_looked_at()
    {
        var (run, _) = ShardRun.InMemory(Start);
        Assert.False(run.Shard.Pass(Start.Plus(5)));
        var nobody = new AlertId(new VehicleName("north", "RT-01"), new AlertSubject(default(FindingKey)), Start);
        var outcome = run.Shard.Act(nobody, new OperatorAction.Acknowledge("Ada"), Start.Plus(6));
        Assert.Equal(ActionRefusal.UnknownAlert, Assert.IsType<ActionOutcome.Refused>(outcome).Why);
    }
}

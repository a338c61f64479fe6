using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>What a margin and a payload really are at a moment of a journey, static and level.</summary>
internal sealed class Truth(JourneyScript script, JourneyMoment moment)
{
    private readonly TrueLoads _loads = Assert.IsType<StaticsResult.Stands>(
        DenseStatics.Settle(script.Truth, moment.Configuration, [.. moment.Payload], default)).Loads;

    /// <summary>Kilograms over the limit.</summary>
    public double Excess(Margin margin)
    {
        var sum = -margin.Constant;
        for (var row = 0; row < margin.Weights.Length; row++) sum += margin.Weights[row] * _loads.Row(row);
        return sum;
    }

    public double Payload(int stateIndex) => moment.Payload[stateIndex];
}

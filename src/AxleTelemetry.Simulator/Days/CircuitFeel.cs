using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Which axle a circuit feels, and by what its sprung load is scaled to that of the reference axle.</summary>
/// <param name="Axle">The axle; -1 where all are raised.</param>
/// <param name="Of">Share of the reference axle.</param>
/// <param name="By">Share of the axle felt.</param>
internal readonly record struct CircuitFeel(int Axle, double Of, double By)
{
    /// <summary>The circuit's reference axle; where that is not carrying, another on the circuit, scaled by its true share.</summary>
    public static CircuitFeel In(TrueCombination truth, SensorPart part, Configuration configuration)
    {
        var body = truth.Described.Bodies[part.Body];
        var weights = body.Vehicle.Modes[configuration.Mode(part.Body)].Weights;
        var factors = truth.Vehicles[part.Body].ShareFactors;
        double Share(int axle) => weights[axle - body.FirstAxle] * factors[axle - body.FirstAxle];
        foreach (var axle in part.Axles)
            if (configuration[axle] == AxleState.Loaded)
                // An axle with a force of its own has no share to scale by.
                return axle == part.Axles[0] ? new(axle, 1, 1) : new(axle, Share(part.Axles[0]), Share(axle));
        foreach (var axle in part.Axles)
            if (configuration[axle] == AxleState.Unloaded)
                return new(axle, 1, 1);
        return new(-1, 1, 1);
    }

    /// <summary>Sprung load of the reference axle from that of the axle felt, kg.</summary>
    public double Scaled(double sprung) => Of == By ? sprung : sprung * Of / By;
}

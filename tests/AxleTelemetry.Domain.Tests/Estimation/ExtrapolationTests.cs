using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Tests.Estimation;

public sealed class ExtrapolationTests
{
    [Fact]
    public void A_pressure_beyond_the_tickets_widens_the_axle()
    {
        var inside = Width(greatestTicket: 500);
        var outside = Width(greatestTicket: 300);
        Assert.True(outside > 1.05 * inside, $"{outside} outside, {inside} inside");
    }

    /// <summary>Half-width of the drive axle at 450 kPa when the tickets reach up to a pressure.</summary>
    private static double Width(double greatestTicket)
    {
        var combination = Fleet.Couple(Fleet.Example("tractor-4x2.json"));
        var sensor = combination.Sensors[0];
        CircuitFit fit = sensor.Sensor.Handbook with
        {
            GainVariance = 1e-4, OffsetVariance = 400, Covariance = 0, Tickets = 6, LeastPressure = 100, GreatestPressure = greatestTicket,
        };
        var estimator = new Estimator(new LoadModel(combination), [new Circuit(sensor, fit)]);
        Span<double> columns = stackalloc double[ErrorBudget.ColumnsPerSensor];
        CircuitRows.AddOwnErrors(estimator.Circuits[0], new CircuitReading(0, 450, 8_100, 2), columns);
        var variance = 0.0;
        foreach (var column in columns) variance += column * column;
        return Estimated.Z95 * Math.Sqrt(variance);
    }
}

using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>A sensed circuit ready for use: its calibration and the two independent directions of what is not known about it.</summary>
public sealed class Circuit
{
    private readonly double _l11;
    private readonly double _l21;
    private readonly double _l22;

    /// <summary>Prepares a sensor with the calibration that holds for it.</summary>
    public Circuit(SensorPart part, CircuitFit fit)
    {
        Part = part;
        Fit = fit;
        // Cholesky factor of the covariance of (a, b), gain first so that the leading direction is the one that grows with load.
        _l11 = Math.Sqrt(Math.Max(fit.GainVariance, 0));
        _l21 = _l11 > 0 ? fit.Covariance / _l11 : 0;
        _l22 = Math.Sqrt(Math.Max(fit.OffsetVariance - _l21 * _l21, 0));
    }

    /// <summary>The sensor and its place.</summary>
    public SensorPart Part { get; }

    /// <summary>The calibration.</summary>
    public CircuitFit Fit { get; }

    /// <summary>Change of the read load (kg) per standard deviation of the first direction of (a, b), at a pressure; sign as in 'true minus read'.</summary>
    public double GainEffect(double kilopascals) => _l11 * kilopascals + _l21;

    /// <summary>Change of the read load (kg) per standard deviation of the second direction of (a, b).</summary>
    public double OffsetEffect => _l22;

    /// <summary>True where only one side is sensed: nothing that rests on it is ever sure.</summary>
    public bool OneSided => Part.Sensor.Side != CircuitSide.Both;
}

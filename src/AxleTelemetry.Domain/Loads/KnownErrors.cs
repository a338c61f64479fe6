namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// What has become known of considered errors: by how much each is off in standard deviations (a measured split, a
/// reported tank), and what part of its spread remains. A measured share carries the errors of its own sensor instead.
/// </summary>
public sealed class KnownErrors
{
    private readonly int _axles;

    /// <summary>Makes room; nothing is known yet.</summary>
    public KnownErrors(int errors, int axles)
    {
        _axles = axles;
        Errors = errors;
        Cells = new double[2 * errors + axles * (ErrorBudget.ColumnsPerSensor + 1)];
        Remaining.Fill(1);
        for (var a = 0; a < axles; a++) SensorOf(a) = -1;
    }

    /// <summary>Number of considered errors.</summary>
    public int Errors { get; }

    /// <summary>All numbers, for copying and comparing.</summary>
    public double[] Cells { get; }

    /// <summary>Known deviation of each error, in its standard deviations.</summary>
    public Span<double> Deviation => Cells.AsSpan(0, Errors);

    /// <summary>Part of each error's spread that remains, 0 to 1.</summary>
    public Span<double> Remaining => Cells.AsSpan(Errors, Errors);

    /// <summary>Sensor that measures an axle's share, -1 where the declared share holds.</summary>
    public ref double SensorOf(int axle) => ref Cells[2 * Errors + axle * (ErrorBudget.ColumnsPerSensor + 1)];

    /// <summary>Relative error of a measured axle per standard deviation of each of its sensor's errors, in standard deviations of the share.</summary>
    public Span<double> Link(int axle) =>
        Cells.AsSpan(2 * Errors + axle * (ErrorBudget.ColumnsPerSensor + 1) + 1, ErrorBudget.ColumnsPerSensor);

    /// <summary>Becomes a copy of another.</summary>
    public void CopyFrom(KnownErrors other) => other.Cells.CopyTo(Cells, 0);

    /// <summary>Number of axles it was made for.</summary>
    public int Axles => _axles;
}

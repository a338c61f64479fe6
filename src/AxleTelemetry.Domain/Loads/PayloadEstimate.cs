namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// What is believed of the payload: state z with its noise covariance C, and D, how far z would move per standard
/// deviation of each considered error. Kept as information (L, e, G) gathered since the load began, so that the
/// expected place of the payload can be weighed anew whenever the estimate moves. Plain numbers throughout: copied whole
/// it is a snapshot.
/// </summary>
public sealed class PayloadEstimate
{
    /// <summary>Makes room for a state of <paramref name="states"/> numbers and <paramref name="errors"/> considered errors.</summary>
    public PayloadEstimate(int states, int errors)
    {
        States = states;
        Errors = errors;
        Cells = new double[(2 * states) + (2 * states * states) + (2 * states * errors)];
    }

    /// <summary>Size of the state.</summary>
    public int States { get; }

    /// <summary>Number of considered errors.</summary>
    public int Errors { get; }

    /// <summary>Settled readings taken since the load began.</summary>
    public int Readings { get; set; }

    /// <summary>True while the expected place of the payload is weighed anew at each solution; false once it is part of the information.</summary>
    public bool PlaceIsOpen { get; set; }

    /// <summary>All numbers, for copying and comparing.</summary>
    public double[] Cells { get; }

    /// <summary>Payload mass and moment of each body that carries, kg and kg m. Not clipped.</summary>
    public Span<double> State => Cells.AsSpan(0, States);

    /// <summary>Noise covariance C, row by row.</summary>
    public Span<double> Covariance => Cells.AsSpan(States, States * States);

    /// <summary>D: error of the state per considered error, row by row.</summary>
    public Span<double> Sensitivity => Cells.AsSpan(States + States * States, States * Errors);

    /// <summary>Information matrix from readings and prior.</summary>
    internal Span<double> Information => Cells.AsSpan(States + States * States + States * Errors, States * States);

    /// <summary>Information vector.</summary>
    internal Span<double> InformationVector => Cells.AsSpan(States + 2 * States * States + States * Errors, States);

    /// <summary>How considered errors entered through the readings: sum of h J' / R.</summary>
    internal Span<double> ErrorInformation => Cells.AsSpan(2 * States + 2 * States * States + States * Errors, States * Errors);

    /// <summary>Becomes a copy of another.</summary>
    public void CopyFrom(PayloadEstimate other)
    {
        other.Cells.CopyTo(Cells, 0);
        Readings = other.Readings;
        PlaceIsOpen = other.PlaceIsOpen;
    }
}

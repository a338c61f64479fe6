using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// What the circuits that were read can tell at all. A load that depends on the payload in a direction that no circuit
/// feels follows only from where the payload is expected to sit, however many readings there are.
/// </summary>
public sealed class Reach
{
    // Puts moments beside masses: a usual distance between supports, m.
    private const double Lever = 5;
    private const double Tolerance = 1e-6;

    private readonly List<double[]> _felt = [];
    private readonly LoadMap _map;
    private readonly Combination _combination;
    private readonly int[] _sensors;

    /// <summary>Prepares what can be told in the configuration of a map, from some sensors counted through the combination.</summary>
    public Reach(Combination combination, LoadMap map, IEnumerable<int> sensors)
    {
        _combination = combination;
        _map = map;
        _sensors = [.. sensors];
        var feeling = 0;
        foreach (var sensor in _sensors)
        {
            var row = new double[map.Width - 1];
            foreach (var axle in combination.Sensors[sensor].Axles.Where(a => map.Configuration[a] == AxleState.Loaded))
                for (var k = 0; k < row.Length; k++)
                    row[k] += Scaled(map.Level(axle), k);
            if (Size(row) <= Tolerance) continue;
            feeling++;
            Feel(row);
        }

        IsRedundant = feeling > _felt.Count;
    }

    /// <summary>How many independent things the sensors tell of the payload.</summary>
    public int Directions => _felt.Count;

    /// <summary>True where more sensors feel the payload than there are independent things they tell.</summary>
    public bool IsRedundant { get; }

    /// <summary>How an axle's load is known.</summary>
    public Knowledge OfAxle(int axle)
    {
        var readHere = _map.Configuration[axle] == AxleState.Loaded
            ? _sensors.Where(s => _combination.Sensors[s].Axles.Contains(axle)).ToArray() : [];
        if (readHere.Any(s => _combination.Sensors[s].Axles.Length == 1)) return Knowledge.Sensed;
        return readHere.Length > 0 ? Knowledge.SharedCircuit : Of(_map.Level(axle));
    }

    /// <summary>How anything else that is affine in the payload is known: <see cref="Knowledge.Inferred"/> or <see cref="Knowledge.ByPlace"/>.</summary>
    /// <param name="coefficients">One per state, then the constant.</param>
    public Knowledge Of(ReadOnlySpan<double> coefficients)
    {
        var row = new double[coefficients.Length - 1];
        for (var k = 0; k < row.Length; k++) row[k] = Scaled(coefficients, k);
        var size = Size(row);
        Reduce(row);
        return Size(row) <= Tolerance * Math.Max(size, Tolerance) || size <= Tolerance ? Knowledge.Inferred : Knowledge.ByPlace;
    }

    private static double Scaled(ReadOnlySpan<double> coefficients, int k) => k % 2 == 0 ? coefficients[k] : coefficients[k] * Lever;

    private void Feel(double[] row)
    {
        var size = Size(row);
        Reduce(row);
        var left = Size(row);
        if (left <= Tolerance * size) return;
        for (var k = 0; k < row.Length; k++) row[k] /= left;
        _felt.Add(row);
    }

    /// <summary>Takes off what the circuits feel already (Gram-Schmidt).</summary>
    private void Reduce(double[] row)
    {
        foreach (var felt in _felt)
        {
            var along = 0.0;
            for (var k = 0; k < row.Length; k++) along += row[k] * felt[k];
            for (var k = 0; k < row.Length; k++) row[k] -= along * felt[k];
        }
    }

    private static double Size(double[] row)
    {
        var sum = 0.0;
        foreach (var value in row) sum += value * value;
        return Math.Sqrt(sum);
    }
}

/// <summary>How a load is known.</summary>
public enum Knowledge
{
    /// <summary>A circuit of its own was read.</summary>
    Sensed,

    /// <summary>A circuit over several axles was read: their mean is known, the split between them is assumed.</summary>
    SharedCircuit,

    /// <summary>No sensor: it follows from what was read by statics.</summary>
    Inferred,

    /// <summary>No sensor, and it does not follow from what was read: only through where the payload sits.</summary>
    ByPlace,
}

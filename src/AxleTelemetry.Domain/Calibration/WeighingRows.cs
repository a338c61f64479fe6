using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>
/// The tickets of one weighing as rows of a least squares problem. They share the bridge's error: the covariance is sigma2 I + t t', t the
/// tickets' own standard deviations. Rows of several axles of one circuit are correlated positively here; that their errors cancel against
/// the rest of the vehicle in the gross would only narrow a sum, so leaving it out is the safe side.
/// </summary>
internal sealed class WeighingRows
{
    private readonly double[] _pressures;
    private readonly double[] _loads;
    private readonly double[] _deviations;

    private WeighingRows(IReadOnlyList<Ticket> tickets, Mass unsprung)
    {
        _pressures = [.. tickets.Select(ticket => ticket.Pressure.Kilopascals)];
        _loads = [.. tickets.Select(ticket => ticket.SprungLoad(unsprung).Kilograms)];
        _deviations = [.. tickets.Select(ticket => ticket.Deviation.Kilograms)];
    }

    public int Count => _loads.Length;

    /// <summary>Tickets gathered by weighing, in order of first appearance.</summary>
    public static WeighingRows[] Gather(IEnumerable<Ticket> tickets, Mass unsprung) =>
        [.. tickets.GroupBy(ticket => ticket.Weighing, StringComparer.Ordinal).Select(group => new WeighingRows([.. group], unsprung))];

    public double LargestDeparture(HandbookPrior prior)
    {
        var largest = 0.0;
        for (var i = 0; i < Count; i++)
        {
            var line = prior.OffsetKilograms + prior.KilogramsPerKilopascal * _pressures[i];
            largest = Math.Max(largest, Math.Abs(_loads[i] - line));
        }
        return largest;
    }

    /// <summary>
    /// Writes the rows multiplied by the inverse root of their covariance, (I - c u u') / sigma with u = t / |t| and
    /// c = 1 - sigma / root(sigma2 + |t|2). Returns ln of the covariance's determinant.
    /// </summary>
    public double Whiten(double sigma, Span<double> design, Span<double> values)
    {
        double square = 0, ones = 0, pressures = 0, loads = 0;
        for (var i = 0; i < Count; i++)
        {
            square += _deviations[i] * _deviations[i];
            ones += _deviations[i];
            pressures += _deviations[i] * _pressures[i];
            loads += _deviations[i] * _loads[i];
        }
        var whole = sigma * sigma + square;
        var shrink = (1 - sigma / Math.Sqrt(whole)) / square;
        for (var i = 0; i < Count; i++)
        {
            var part = shrink * _deviations[i];
            design[2 * i] = (1 - part * ones) / sigma;
            design[2 * i + 1] = (_pressures[i] - part * pressures) / sigma;
            values[i] = (_loads[i] - part * loads) / sigma;
        }
        return 2 * (Count - 1) * Math.Log(sigma) + Math.Log(whole);
    }
}

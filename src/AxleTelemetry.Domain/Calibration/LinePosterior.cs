using AxleTelemetry.Domain.Statistics;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>
/// What handbook and tickets together say of the line S = a + b p. For a known residual variance this is weighted least squares with the
/// prior as two more rows. The variance is not known: it has a scaled inverse chi-squared prior, and the fits for a ladder of variances are
/// weighed by how well each explains the tickets. Their mixture has the variance of a t distribution, without assuming that ticket errors,
/// residual and prior share one scale.
/// </summary>
internal sealed record LinePosterior
{
    /// <summary>Steps of ln(sigma); the weights are smooth in it, so halving the step moves a variance by less than 1e-4 of itself.</summary>
    private const double Step = 0.1;

    public required double Offset { get; init; }

    public required double Gain { get; init; }

    public required double OffsetVariance { get; init; }

    public required double GainVariance { get; init; }

    public required double Covariance { get; init; }

    /// <summary>Expected variance of a weighing about the line, kg2, without the ticket's own.</summary>
    public required double ResidualVariance { get; init; }

    public required double DegreesOfFreedom { get; init; }

    public double At(double p) => Offset + Gain * p;

    public double VarianceAt(double p) => OffsetVariance + 2 * p * Covariance + p * p * GainVariance;

    /// <summary>The prior alone, in closed form.</summary>
    public static LinePosterior Of(HandbookPrior prior) => new()
    {
        Offset = prior.OffsetKilograms,
        Gain = prior.KilogramsPerKilopascal,
        OffsetVariance = prior.OffsetDeviationKilograms * prior.OffsetDeviationKilograms,
        GainVariance = prior.GainDeviation * prior.GainDeviation,
        Covariance = 0,
        ResidualVariance = prior.ResidualKilograms * prior.ResidualKilograms,
        DegreesOfFreedom = prior.EarlierTickets,
    };

    /// <summary>Prior and weighings together.</summary>
    public static LinePosterior Of(HandbookPrior prior, ReadOnlySpan<WeighingRows> weighings)
    {
        if (weighings.Length == 0) return Of(prior);
        double low = Math.Log(prior.ResidualKilograms / 20), high = Math.Log(100 * Scale(prior, weighings));
        var rungs = new Rung[(int)Math.Ceiling((high - low) / Step) + 1];
        for (var i = 0; i < rungs.Length; i++) rungs[i] = Solve(prior, weighings, Math.Exp(low + i * Step));
        return Mix(rungs);
    }

    /// <summary>The largest residual from the handbook line, or the prior's own: the ladder must reach beyond both.</summary>
    private static double Scale(HandbookPrior prior, ReadOnlySpan<WeighingRows> weighings)
    {
        var scale = prior.ResidualKilograms;
        foreach (var weighing in weighings) scale = Math.Max(scale, weighing.LargestDeparture(prior));
        return scale;
    }

    /// <summary>One residual deviation sigma: its least squares solution and the logarithm of its weight.</summary>
    private readonly record struct Rung(double Sigma, LeastSquares Fit, double LogWeight);

    private static Rung Solve(HandbookPrior prior, ReadOnlySpan<WeighingRows> weighings, double sigma)
    {
        var rows = 2;
        foreach (var weighing in weighings) rows += weighing.Count;
        double[] design = new double[2 * rows], values = new double[rows];
        design[0] = 1 / prior.OffsetDeviationKilograms;
        values[0] = prior.OffsetKilograms / prior.OffsetDeviationKilograms;
        design[3] = 1 / prior.GainDeviation;
        values[1] = prior.KilogramsPerKilopascal / prior.GainDeviation;
        var at = 2;
        var logDeterminant = 0.0;
        foreach (var weighing in weighings)
        {
            logDeterminant += weighing.Whiten(sigma, design.AsSpan(2 * at), values.AsSpan(at));
            at += weighing.Count;
        }
        var fit = LeastSquares.Solve(design, 2, values) ?? throw new InvalidOperationException("The prior's rows give full rank.");
        return new(sigma, fit, LogPrior(prior, sigma) - 0.5 * (logDeterminant + fit.LogDeterminant + fit.ResidualSumOfSquares));
    }

    /// <summary>
    /// Scaled inverse chi-squared density over ln(sigma), nu = earlier tickets. Its scale is (nu - 2) / nu of the stated variance, so that the
    /// stated one is the prior's mean: what an estimator may use as it stands when there is no ticket.
    /// </summary>
    private static double LogPrior(HandbookPrior prior, double sigma)
    {
        double nu = prior.EarlierTickets, ratio = prior.ResidualKilograms / sigma;
        return -nu * Math.Log(sigma) - 0.5 * (nu - 2) * ratio * ratio;
    }

    private static LinePosterior Mix(Rung[] rungs)
    {
        var top = double.NegativeInfinity;
        foreach (var rung in rungs) top = Math.Max(top, rung.LogWeight);
        double total = 0, offset = 0, gain = 0, variance = 0, precision = 0;
        foreach (var rung in rungs)
        {
            double weight = Math.Exp(rung.LogWeight - top), square = rung.Sigma * rung.Sigma;
            total += weight;
            offset += weight * rung.Fit.Coefficients[0];
            gain += weight * rung.Fit.Coefficients[1];
            variance += weight * square;
            precision += weight / square;
        }
        var spread = variance / total * (precision / total);
        return Spread(rungs, top, new()
        {
            Offset = offset / total,
            Gain = gain / total,
            OffsetVariance = 0,
            GainVariance = 0,
            Covariance = 0,
            ResidualVariance = variance / total,
            // For a scaled inverse chi-squared, mean of sigma2 x mean of 1 / sigma2 = nu / (nu - 2).
            DegreesOfFreedom = 2 * spread / Math.Max(spread - 1, 1e-6),
        });
    }

    /// <summary>Law of total variance: the mean of the rungs' covariances and the covariance of their means.</summary>
    private static LinePosterior Spread(Rung[] rungs, double top, LinePosterior centre)
    {
        ReadOnlySpan<double> first = [1, 0], second = [0, 1];
        double total = 0, offset = 0, gain = 0, both = 0;
        foreach (var (_, fit, logWeight) in rungs)
        {
            var weight = Math.Exp(logWeight - top);
            double da = fit.Coefficients[0] - centre.Offset, db = fit.Coefficients[1] - centre.Gain;
            total += weight;
            offset += weight * (fit.Covariance(first, first) + da * da);
            gain += weight * (fit.Covariance(second, second) + db * db);
            both += weight * (fit.Covariance(first, second) + da * db);
        }
        return centre with { OffsetVariance = offset / total, GainVariance = gain / total, Covariance = both / total };
    }
}

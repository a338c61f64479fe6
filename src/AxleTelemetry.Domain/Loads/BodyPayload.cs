namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// What is believed of the payload of one body by itself, whatever it was measured with: what noise, place and considered errors leave open is
/// all in its covariance. Plain numbers; all zero where nothing is known.
/// </summary>
public struct BodyPayload
{
    /// <summary>Mass, kg. Not clipped.</summary>
    public double Mass;

    /// <summary>Moment about the body's own origin, kg m.</summary>
    public double Moment;

    /// <summary>Variance of the mass, kg2.</summary>
    public double MassVariance;

    /// <summary>Covariance of mass and moment, kg2 m.</summary>
    public double Covariance;

    /// <summary>Variance of the moment, kg2 m2.</summary>
    public double MomentVariance;

    /// <summary>When it was last measured rolling, Unix milliseconds; 0 where nothing is known.</summary>
    public long MeasuredAt;

    /// <summary>True where anything is known.</summary>
    public readonly bool IsKnown => MeasuredAt != 0;
}

/// <summary>Takes payloads out of an estimate and puts them into one of other vehicles.</summary>
internal static class PayloadTransfer
{
    /// <summary>
    /// The payload at a place in the state. Of an error that moved it nobody knows whether the next vehicles share it, so it is counted as if none did.
    /// </summary>
    public static BodyPayload Of(PayloadEstimate estimate, int index, long measuredAt) => new()
    {
        Mass = estimate.State[index],
        Moment = estimate.State[index + 1],
        MassVariance = Variance(estimate, index, index),
        Covariance = Variance(estimate, index, index + 1),
        MomentVariance = Variance(estimate, index + 1, index + 1),
        MeasuredAt = measuredAt,
    };

    /// <summary>An estimate begins with payloads measured elsewhere, one for each body that carries, in their order.</summary>
    /// <exception cref="InvalidOperationException">A covariance is not positive definite.</exception>
    public static void Begin(PayloadEstimate estimate, ReadOnlySpan<BodyPayload> payloads)
    {
        estimate.Cells.AsSpan().Clear();
        var n = estimate.States;
        for (var b = 0; b < payloads.Length; b++)
        {
            ref readonly var payload = ref payloads[b];
            var i = 2 * b;
            (estimate.State[i], estimate.State[i + 1]) = (payload.Mass, payload.Moment);
            // Measured together they may be off together, and how is not known any more: a sum of k is never worse known than k times each.
            var covariance = estimate.Covariance;
            covariance[i * n + i] = payloads.Length * payload.MassVariance;
            covariance[i * n + i + 1] = covariance[(i + 1) * n + i] = payloads.Length * payload.Covariance;
            covariance[(i + 1) * n + i + 1] = payloads.Length * payload.MomentVariance;
        }

        estimate.Covariance.CopyTo(estimate.Information);
        if (!SmallMatrix.Invert(estimate.Information, n)) throw new InvalidOperationException("The covariance of the payload is not positive definite.");
        for (var i = 0; i < n; i++) estimate.InformationVector[i] = Estimator.Dot(estimate.Information.Slice(i * n, n), estimate.State);
        estimate.Readings = 1;
        estimate.PlaceIsOpen = false;
    }

    private static double Variance(PayloadEstimate estimate, int i, int k) =>
        estimate.Covariance[i * estimate.States + k]
        + Estimator.Dot(estimate.Sensitivity.Slice(i * estimate.Errors, estimate.Errors), estimate.Sensitivity.Slice(k * estimate.Errors, estimate.Errors));
}

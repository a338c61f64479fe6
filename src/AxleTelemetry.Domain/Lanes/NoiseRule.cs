namespace AxleTelemetry.Domain.Lanes;

/// <summary>Noise of a settled reading, learned from how successive ones differ.</summary>
internal static class NoiseRule
{
    /// <summary>What is expected before anything is seen: 1.2 % of the axle's rating, worth six readings. Common practice.</summary>
    private const double PriorRelativeSd = 0.012, PriorWeight = 6;

    private const double Memory = 60, Least = 20;

    public static double Variance(in SensorState sensor, double rating)
    {
        var prior = PriorRelativeSd * rating;
        var variance = (PriorWeight * prior * prior + sensor.NoiseSum) / (PriorWeight + sensor.NoiseWeight);
        return Math.Max(variance, Least * Least);
    }

    public static void Learn(ref SensorState sensor, double load)
    {
        if (sensor.HasLastLoad != 0)
        {
            // Successive readings of one load differ by twice the variance of each.
            var step = load - sensor.LastLoad;
            if (sensor.NoiseWeight >= Memory)
            {
                sensor.NoiseSum *= (Memory - 1) / sensor.NoiseWeight;
                sensor.NoiseWeight = Memory - 1;
            }

            sensor.NoiseSum += step * step / 2;
            sensor.NoiseWeight++;
        }

        sensor.LastLoad = load;
        sensor.HasLastLoad = 1;
    }
}

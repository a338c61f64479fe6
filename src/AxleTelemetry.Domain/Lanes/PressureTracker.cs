namespace AxleTelemetry.Domain.Lanes;

/// <summary>Keeps <see cref="SensorState"/>: blocks of ten seconds give a mean, a rate of change and the road noise.</summary>
internal static class PressureTracker
{
    private const int LeastForNoise = 3;
    private const double LongestHold = 120;

    /// <summary>Takes a pressure. True when a block has just ended.</summary>
    public static bool Take(ref SensorState sensor, long at, double pressure)
    {
        var ended = sensor.BlockCount > 0 && MotionTracker.Seconds(sensor.BlockStart, at) >= SensorState.BlockSeconds;
        if (ended) EndBlock(ref sensor);
        if (sensor.BlockCount == 0) sensor.BlockStart = at;
        else
        {
            var step = pressure - sensor.Pressure;
            sensor.BlockRoughness += step * step;
        }

        sensor.BlockSum += pressure;
        sensor.BlockCount++;
        sensor.Pressure = pressure;
        sensor.PressureAt = at;
        return ended;
    }

    /// <summary>True where the sensor has said so lately what it measures that it still holds.</summary>
    public static bool IsKnown(in SensorState sensor, long at) => sensor.MeanAt != 0 && MotionTracker.Seconds(sensor.MeanAt, at) <= LongestHold;

    private static void EndBlock(ref SensorState sensor)
    {
        var mean = sensor.BlockSum / sensor.BlockCount;
        var gap = MotionTracker.Seconds(sensor.MeanAt, sensor.PressureAt);
        sensor.Rate = sensor.MeanAt != 0 && gap is > 0 and <= MotionTracker.LongestGap ? (mean - sensor.Mean) / Math.Max(gap, SensorState.BlockSeconds) : 0;
        sensor.RoadNoise = sensor.BlockCount >= LeastForNoise ? Math.Sqrt(sensor.BlockRoughness / (2 * (sensor.BlockCount - 1))) : -1;
        sensor.Mean = mean;
        sensor.MeanAt = sensor.PressureAt;
        sensor.BlockSum = 0;
        sensor.BlockRoughness = 0;
        sensor.BlockCount = 0;
    }
}

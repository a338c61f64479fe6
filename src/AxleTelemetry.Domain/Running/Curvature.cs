using AxleTelemetry.Domain.Places;

namespace AxleTelemetry.Domain.Running;

/// <summary>How a road bends, from positions. Noise of positions makes any road bend; of the square it can be taken off on average.</summary>
public static class Curvature
{
    /// <summary>Curvature of the circle through three points (Menger), 1/m, zero or more; <c>null</c> where two of them coincide.</summary>
    public static double? Of(PlanePoint a, PlanePoint b, PlanePoint c)
    {
        var sides = Distance(a, b) * Distance(b, c) * Distance(c, a);
        var area = (b.East - a.East) * (c.North - a.North) - (b.North - a.North) * (c.East - a.East);
        return sides > 0 ? 2 * Math.Abs(area) / sides : null;
    }

    /// <summary>
    /// Variance of the curvature that noise alone brings, 1/m2, where points are so far apart along the road and each has an error of its own of
    /// this standard deviation in either direction. Equally spaced: 6 sd2 / s4. A receiver's errors are alike from one point to the
    /// next, so the deviation to use is that of their differences over the square root of two.
    /// </summary>
    /// <param name="first">Metres from the first point to the second.</param>
    /// <param name="second">Metres from the second to the third.</param>
    /// <param name="positionSd">Standard deviation in either direction, m.</param>
    public static double NoiseVariance(double first, double second, double positionSd)
    {
        double a = 1 / first, b = 1 / second, scale = 2 * positionSd / (first + second);
        return scale * scale * (a * a + b * b + (a + b) * (a + b));
    }

    /// <summary>
    /// Curvature squared without what noise adds on average, 1/m2: below zero about as often as noise was small, so that means over a road come out
    /// right; to cut it at zero would let noise in again. <c>null</c> where points coincide.
    /// </summary>
    public static double? SquaredWithoutNoise(PlanePoint a, PlanePoint b, PlanePoint c, double positionSd) =>
        Of(a, b, c) is { } bend ? bend * bend - NoiseVariance(Distance(a, b), Distance(b, c), positionSd) : null;

    private static double Distance(PlanePoint a, PlanePoint b)
    {
        double east = b.East - a.East, north = b.North - a.North;
        return Math.Sqrt(east * east + north * north);
    }
}

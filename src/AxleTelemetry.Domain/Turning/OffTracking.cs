namespace AxleTelemetry.Domain.Turning;

/// <summary>How far the last axle runs inside the first when the bend is long enough for the combination to settle in it.</summary>
public static class OffTracking
{
    /// <summary>R - sqrt(R2 - sum L2), m; <c>null</c> where the bend is too tight to be followed.</summary>
    /// <param name="radius">Radius that the middle of the first axle follows, m.</param>
    /// <param name="squares">
    /// Sum of squares, m2: plus each wheelbase and drawbar, minus each distance between a fixed axle line and the coupling that the
    /// next vehicle hangs on, as a coupling off that line swings outward.
    /// </param>
    public static double? Metres(double radius, double squares) =>
        radius * radius - squares is var inner && inner > 0 ? radius - Math.Sqrt(inner) : null;

    /// <summary>Slip angle of a fixed axle, radians; small angles.</summary>
    /// <param name="distance">From the line through the turning centre, along the vehicle, m.</param>
    /// <param name="radius">Radius that this line's middle follows, m.</param>
    public static double Slip(double distance, double radius) => distance / radius;
}

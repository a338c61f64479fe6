namespace AxleTelemetry.Domain.Running;

/// <summary>
/// How a stretch of road bends and how fast the bends are taken, as means over its length. Means of powers, so that stretches
/// add up by length and noise that was taken off on average stays taken off: each may be slightly negative, and all work is linear
/// in them, so a negative one gives a negative work that its neighbours make good.
/// </summary>
/// <param name="Squared">Mean of curvature squared, 1/m2.</param>
/// <param name="WithSpeed">Mean of curvature squared times speed squared, 1/s2.</param>
/// <param name="Lateral">Mean of lateral acceleration squared: curvature squared times speed to the fourth, m2/s4.</param>
public readonly record struct Bends(double Squared, double WithSpeed, double Lateral)
{
    /// <summary>A straight road.</summary>
    public static Bends Straight => default;

    /// <summary>Bends of one squared curvature, 1/m2, taken at one speed, m/s.</summary>
    public static Bends At(double squaredCurvature, double speed) =>
        new(squaredCurvature, squaredCurvature * speed * speed, squaredCurvature * speed * speed * speed * speed);

    /// <summary>Bends of one radius, m, taken at one speed, m/s.</summary>
    public static Bends OfRadius(double metres, double speed) => At(1 / (metres * metres), speed);

    /// <summary>Sum, for means that are gathered point by point.</summary>
    public static Bends operator +(Bends a, Bends b) => new(a.Squared + b.Squared, a.WithSpeed + b.WithSpeed, a.Lateral + b.Lateral);

    /// <summary>Weighted.</summary>
    public static Bends operator *(Bends bends, double by) => new(bends.Squared * by, bends.WithSpeed * by, bends.Lateral * by);
}

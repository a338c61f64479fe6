using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// Curvature squared from headings, with the noise variance taken out. A heading with noise of variance s2 puts 2 s2 into every squared turn, so
/// a straight road would seem to bend. What the noise is, the headings say themselves: one turn less the one before has a variance of 6 s2 while
/// curvature stays as it is. Each turn says it of itself, since headings are the noisier the slower it goes. Where a bend begins or ends that
/// difference holds some real turn too, so what is left is rather too little.
/// </summary>
internal static class CurveTracker
{
    private const double LeastMetres = 1;

    // Longer apart, what bends between two headings is lost, and what is left would pass for a straight road.
    private const double MostSeconds = 12;

    /// <summary>Takes a heading at an odometer and a speed.</summary>
    public static void Take(ref CurveState curve, in MotionState motion, long at)
    {
        var metres = motion.Metres - curve.Metres;
        if (curve.At != 0 && metres < LeastMetres && at - curve.At <= 1000 * MostSeconds) return;
        if (curve.At != 0 && at - curve.At <= 1000 * MostSeconds) TakeTurn(ref curve, motion, metres);
        else curve.HasTurned = 0;
        curve.Heading = motion.Heading;
        curve.At = at;
        curve.Metres = motion.Metres;
    }

    /// <summary>How the stretch bent, as means over the distance known; and that distance.</summary>
    public static (Bends Bends, double Metres) Of(in CurveState curve)
    {
        // One or two differences tell nothing of noise: then nothing is known of curvature.
        if (curve.Known <= 0 || curve.Turns < 3) return (Bends.Straight, 0);
        var bends = new Bends(curve.Squared - curve.Noise, curve.WithSpeed - curve.NoiseWithSpeed, curve.Lateral - curve.NoiseLateral);
        return (bends * (1 / curve.Known), curve.Known);
    }

    /// <summary>A new stretch begins; the latest heading stays.</summary>
    public static void Restart(ref CurveState curve) => curve = new CurveState
    {
        Heading = curve.Heading,
        At = curve.At,
        Metres = curve.Metres,
        Turned = curve.Turned,
        HasTurned = curve.HasTurned,
    };

    private static void TakeTurn(ref CurveState curve, in MotionState motion, double metres)
    {
        var turned = Math.IEEERemainder(motion.Heading - curve.Heading, 360) * Math.PI / 180;
        // Without one before it nobody knows what of a turn is noise: it only serves the next.
        if (curve.HasTurned != 0) Add(ref curve, turned, motion.Speed * motion.Speed, metres);
        curve.Turned = turned;
        curve.HasTurned = 1;
    }

    private static void Add(ref CurveState curve, double turned, double speed, double metres)
    {
        var squared = turned * turned / metres;
        var jitter = turned - curve.Turned;
        // Of 6 s2 a third is the 2 s2 that a squared turn has too much.
        var noise = jitter * jitter / 3 / metres;
        curve.Known += metres;
        curve.Squared += squared;
        curve.WithSpeed += squared * speed;
        curve.Lateral += squared * speed * speed;
        curve.Noise += noise;
        curve.NoiseWithSpeed += noise * speed;
        curve.NoiseLateral += noise * speed * speed;
        curve.Turns++;
    }
}

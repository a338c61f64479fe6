using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Writing;

/// <summary>Which moments the tables can count with.</summary>
internal static class Moments
{
    private static readonly long First = DateTimeOffset.MinValue.ToUnixTimeMilliseconds();
    private static readonly long Last = DateTimeOffset.MaxValue.ToUnixTimeMilliseconds();

    /// <summary>In order, and in the years 1 to 9999: hours of such moments do not overflow.</summary>
    public static bool AreUsable(SampleSpan samples) =>
        samples.Least <= samples.Greatest && samples.Least.UnixMilliseconds >= First && samples.Greatest.UnixMilliseconds <= Last;
}

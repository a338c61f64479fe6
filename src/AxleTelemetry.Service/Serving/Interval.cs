using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Service.Serving;

/// <summary>A figure as it is always given: with its standard deviation and its 95 % interval. The unit stands in the name of the field.</summary>
/// <param name="Mean">Best estimate.</param>
/// <param name="Sd">Standard deviation.</param>
/// <param name="Low">Lower end of the 95 % interval.</param>
/// <param name="High">Upper end of the 95 % interval.</param>
internal sealed record Interval(double Mean, double Sd, double Low, double High)
{
    public static Interval Of(Estimated value) => new(Rounded(value.Mean), Rounded(value.Sd), Rounded(value.Low), Rounded(value.High));

    public static Interval? Of(Estimated? value) => value is { } known ? Of(known) : null;

    /// <summary>To 0.1, and never a minus zero.</summary>
    public static double Rounded(double value) => Math.Round(value, 1) is var rounded && rounded == 0 ? 0 : rounded;
}

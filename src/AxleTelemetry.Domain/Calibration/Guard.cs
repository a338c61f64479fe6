using System.Runtime.CompilerServices;

namespace AxleTelemetry.Domain.Calibration;

/// <summary>Ranges that a calibration's numbers keep; the exception names the number.</summary>
internal static class Guard
{
    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) && value > 0
            ? value
            : throw new ArgumentOutOfRangeException(name, value, "A finite number above zero is needed.");

    public static double NotNegative(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) && value >= 0
            ? value
            : throw new ArgumentOutOfRangeException(name, value, "A finite number, zero or above, is needed.");

    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "A finite number is needed.");
}

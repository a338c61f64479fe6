namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// Reads the plain short decimals that devices send, exactly: up to 15 digits make a whole number below 2^53, and one
/// division by a power of ten that a double holds exactly rounds once, so the result is the nearest double.
/// </summary>
internal static class DecimalText
{
    private const int MaxDigits = 15;

    // An array: a span over constants allocates where the compiler does not optimise, which hides real allocations from tests.
    private static readonly double[] PowersOfTen =
        [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

    /// <summary>Reads a JSON number without exponent; false when it is longer or other, and the slow way is needed.</summary>
    public static bool TryRead(ReadOnlySpan<byte> text, out double value)
    {
        long whole = 0;
        int digits = 0, decimals = -1;
        var negative = text.Length > 0 && text[0] == '-';
        foreach (var b in negative ? text[1..] : text)
        {
            if (b == '.' && decimals < 0)
            {
                decimals = 0;
                continue;
            }

            var digit = b - '0';
            if ((uint)digit > 9 || ++digits > MaxDigits) break;
            whole = whole * 10 + digit;
            if (decimals >= 0) decimals++;
        }

        return Finish(text, whole, decimals, negative, digits, out value);
    }

    private static bool Finish(ReadOnlySpan<byte> text, long whole, int decimals, bool negative, int digits, out double value)
    {
        var read = digits + (negative ? 1 : 0) + (decimals >= 0 ? 1 : 0);
        value = decimals > 0 ? whole / PowersOfTen[decimals] : whole;
        if (negative) value = 0 - value;
        return digits is > 0 and <= MaxDigits && read == text.Length;
    }
}

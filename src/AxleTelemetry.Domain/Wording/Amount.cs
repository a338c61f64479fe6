using System.Globalization;

namespace AxleTelemetry.Domain.Wording;

/// <summary>Numbers as people of the trade read them: loads in tonnes with one decimal, never in kilograms.</summary>
public static class Amount
{
    /// <summary><c>12.4 t</c>.</summary>
    public static string Tonnes(double kilograms) => $"{Number(kilograms)} t";

    /// <summary><c>12.4</c>; never <c>-0.0</c>.</summary>
    public static string Number(double kilograms)
    {
        var tonnes = Math.Round(kilograms / 1000, 1, MidpointRounding.AwayFromZero);
        return (tonnes == 0 ? 0 : tonnes).ToString("0.0", CultureInfo.InvariantCulture);
    }

    /// <summary>A limit is no estimate and is given whole: <c>11.5 t</c>, <c>7.55 t</c>.</summary>
    public static string Limit(double kilograms) => (kilograms / 1000).ToString("0.0##", CultureInfo.InvariantCulture) + " t";

    /// <summary>Rounded up to 0.1 t, as what must come off is; a whole 0.1 t stays.</summary>
    public static string TonnesUp(double kilograms) => $"{UpToTenth(kilograms / 1000)} t";

    /// <summary>Rounded up to 0.1 m.</summary>
    public static string MetresUp(double metres) => $"{UpToTenth(metres)} m";

    /// <summary><c>22.1 %</c>.</summary>
    public static string Percent(double fraction) => (100 * fraction).ToString("0.#", CultureInfo.InvariantCulture) + " %";

    /// <summary><c>22 %</c>; <c>under 1 %</c> where it would round to nothing, since hardly anything is certain.</summary>
    public static string WholePercent(double fraction) => fraction is > 0 and < 0.005 ? "under 1 %" : (100 * fraction).ToString("0", CultureInfo.InvariantCulture) + " %";

    /// <summary>An excess as words: <c>0.9 t</c>, and <c>less than 0.1 t</c> where it would round to nothing.</summary>
    public static string Excess(double kilograms) => kilograms < 50 ? "less than 0.1 t" : Tonnes(kilograms);

    // What a sum left over below a gram is not worth another 0.1 t.
    private static string UpToTenth(double value) => (Math.Ceiling(value * 10 - 1e-6) / 10).ToString("0.0", CultureInfo.InvariantCulture);
}

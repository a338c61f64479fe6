using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Languages;

/// <summary>Numbers as German readers have them: the same roundings, with a decimal comma.</summary>
internal static class GermanAmount
{
    public static string Tonnes(double kilograms) => Comma(Amount.Tonnes(kilograms));

    public static string Limit(double kilograms) => Comma(Amount.Limit(kilograms));

    public static string TonnesUp(double kilograms) => Comma(Amount.TonnesUp(kilograms));

    public static string MetresUp(double metres) => Comma(Amount.MetresUp(metres));

    public static string Percent(double fraction) => Comma(Amount.Percent(fraction));

    public static string WholePercent(double fraction) => fraction is > 0 and < 0.005 ? GermanTexts.Of("UnderOnePercent") : Comma(Amount.WholePercent(fraction));

    public static string Excess(double kilograms) => kilograms < 50 ? GermanTexts.Of("LessThanTenth") : Tonnes(kilograms);

    /// <summary>A number with one decimal.</summary>
    public static string Number(double value) => Comma(FormattableString.Invariant($"{value:0.0}"));

    private static string Comma(string number) => number.Replace('.', ',');
}

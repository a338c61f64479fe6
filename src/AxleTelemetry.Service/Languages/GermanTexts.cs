using System.Globalization;
using System.Resources;

namespace AxleTelemetry.Service.Languages;

/// <summary>Texts about alerts in German, by name; they are resources.</summary>
internal static class GermanTexts
{
    private static readonly ResourceManager Texts = new(typeof(GermanTexts).FullName!, typeof(GermanTexts).Assembly);

    /// <summary>A text with what belongs into it.</summary>
    /// <exception cref="InvalidOperationException">There is none of that name.</exception>
    public static string Of(string name, params ReadOnlySpan<object?> parts) =>
        string.Format(CultureInfo.InvariantCulture, Texts.GetString(name, CultureInfo.InvariantCulture) ?? throw new InvalidOperationException($"The German text '{name}' is missing."), parts);

    /// <summary>The first letter made large.</summary>
    public static string Begin(string sentence) => sentence.Length == 0 ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];

    /// <summary><c>a, b und c</c>.</summary>
    public static string List(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => names[0],
        _ => Of("And", string.Join(", ", names.Take(names.Count - 1)), names[^1]),
    };
}

using System.Text;

namespace AxleTelemetry.Messages.Refusals;

/// <summary>Makes a short printable piece of foreign text or bytes, safe to log and to show.</summary>
public static class Excerpt
{
    /// <summary>Characters kept; what is cut is marked by three dots.</summary>
    public const int MaxCharacters = 48;

    /// <summary>From bytes that should be UTF-8.</summary>
    public static string Of(ReadOnlySpan<byte> bytes)
    {
        // No character takes more than four bytes, so the rest need not be decoded.
        var seen = bytes.Length > 4 * (MaxCharacters + 1) ? bytes[..(4 * (MaxCharacters + 1))] : bytes;
        return Of(Encoding.UTF8.GetString(seen).AsSpan());
    }

    /// <summary>From text; control characters, unpaired surrogates and direction marks become a question mark.</summary>
    public static string Of(ReadOnlySpan<char> text)
    {
        var result = new StringBuilder(MaxCharacters + 3);
        foreach (var rune in text.EnumerateRunes())
        {
            if (result.Length + rune.Utf16SequenceLength > MaxCharacters) return result.Append("...").ToString();
            result.Append(IsPrintable(rune) ? rune.ToString() : "?");
        }

        return result.ToString();
    }

    private static bool IsPrintable(Rune rune) => Rune.GetUnicodeCategory(rune) is not (
        System.Globalization.UnicodeCategory.Control
        or System.Globalization.UnicodeCategory.Format
        or System.Globalization.UnicodeCategory.LineSeparator
        or System.Globalization.UnicodeCategory.ParagraphSeparator);
}

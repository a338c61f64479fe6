using System.Collections.Immutable;
using System.Text;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Words in a file for the cases of an enumeration: <c>SemiTrailer</c> is written <c>semi-trailer</c>.</summary>
internal static class Words
{
    /// <summary>Every word of an enumeration, in its order.</summary>
    public static ImmutableArray<string> Of<T>() where T : struct, Enum => [.. Enum.GetNames<T>().Select(Hyphenate)];

    /// <summary>The case that a word stands for; <c>null</c> for no word or another one.</summary>
    public static T? Read<T>(string? word) where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
            if (Write(value) == word)
                return value;
        return null;
    }

    /// <summary>The word of a case.</summary>
    public static string Write<T>(T value) where T : struct, Enum => Hyphenate(value.ToString());

    private static string Hyphenate(string name)
    {
        var text = new StringBuilder();
        foreach (var letter in name)
        {
            if (char.IsUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }
}

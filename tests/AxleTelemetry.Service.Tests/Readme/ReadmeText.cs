using System.Collections.Immutable;
using System.Text.RegularExpressions;

namespace AxleTelemetry.Service.Tests.Readme;

/// <summary>What the README shows to be typed, and the JSON in it.</summary>
internal static partial class ReadmeText
{
    private const string Code = "    ";

    /// <summary>How a command of this program begins there.</summary>
    public const string Program = "dotnet run -c Release --project src/AxleTelemetry.Service -- ";

    private static readonly string[] Lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "README.md"));

    /// <summary>Every line of its code blocks, indented or fenced.</summary>
    public static ImmutableArray<string> CodeLines { get; } = [.. InCode(Lines)];

    /// <summary>JSON that stands in code or is sent by a command.</summary>
    public static IEnumerable<string> Samples => CodeLines.SelectMany(line => line.StartsWith('{') ? [line] : Words(line).Where(word => word.StartsWith('{')));

    /// <summary>The words of a line as a shell splits them; only what the README uses: quotes around whole words.</summary>
    public static ImmutableArray<string> Words(string line) =>
        [.. WordsOf().Matches(line).Select(m => m.Groups[1].Success ? m.Groups[1].Value : m.Groups[2].Success ? m.Groups[2].Value : m.Value)];

    private static IEnumerable<string> InCode(IEnumerable<string> lines)
    {
        var fenced = false;
        foreach (var line in lines)
        {
            if (line.StartsWith("```", StringComparison.Ordinal)) fenced = !fenced;
            else if ((fenced || line.StartsWith(Code, StringComparison.Ordinal)) && line.Trim().Length > 0) yield return line.Trim();
        }
    }

    [GeneratedRegex("""'([^']*)'|"([^"]*)"|\S+""")]
    private static partial Regex WordsOf();
}

using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>Spoils what a payload is made of: still JSON, mostly, but not the contract's.</summary>
internal static partial class ShapeSpoiling
{
    private const int Most = 65_536;

    private static readonly (string How, Func<string, Random, string> Apply)[] Ways =
    [
        ("a string for an object", (_, random) => Pick(random, "\"\"", "\"samples\"", "1", "null", "true", "[]", "[[]]", "")),
        ("samples of another type", (text, random) => Samples().Replace(text, "\"samples\":" + Pick(random, "{}", "null", "\"\"", "1", "[null]", "[1]", "[[]]", "[\"t\"]"), 1)),
        ("no samples", (text, random) => Samples().Replace(text, Pick(random, "\"samples\":[]", "\"sample\":[]", "\"Samples\":[{}]", "\"samples\":[{}]"), 1)),
        ("objects and lists changed over", (text, _) => Swap(text)),
        ("numbers as text", (text, _) => Number().Replace(text, m => $":\"{m.Groups[1].Value}\"")),
        ("text as numbers", (text, random) => Text().Replace(text, Pick(random, ":0", ":null", ":[]", ":1e400"))),
        ("every number odd", (text, random) => Number().Replace(text, _ => ":" + OddNumber(random))),
        ("a number odd", (text, random) => OneOf(Number(), text, random, ":" + OddNumber(random))),
        ("a name odd", (text, random) => OneOf(Name(), text, random, OddName(random) + ":")),
        ("times all the same", (text, _) => Time().Replace(text, "\"t\":1772431200000")),
        ("a time odd", (text, random) => OneOf(Time(), text, random, "\"t\":" + OddTime(random))),
        ("1001 samples", (_, random) => Repeated("""{"t":1772431200000}""", 1001, random)),
        ("1000 samples", (_, random) => Repeated("""{"t":1772431200000}""", 1000, random)),
        ("65 536 bytes", (text, _) => Padded(text, Most)),
        ("65 537 bytes", (text, _) => Padded(text, Most + 1)),
        ("65 KiB of one field", (text, _) => $$"""{"x":"{{new string('x', 65 * 1024)}}",{{text.TrimStart('{')}}"""),
        ("two values", (text, _) => text + text),
        ("byte order mark", (text, _) => "\ufeff" + text),
        ("another alphabet", (text, random) => text.Replace("\"", Pick(random, "'", "\u201c"), StringComparison.Ordinal)),
    ];

    public static IEnumerable<string> Names => Ways.Select(w => w.How);

    public static byte[] Of(byte[] payload, Random random, out string how)
    {
        var (name, apply) = Ways[random.Next(Ways.Length)];
        how = name;
        return Encoding.UTF8.GetBytes(apply(Encoding.UTF8.GetString(payload), random));
    }

    private static string OddNumber(Random random) => random.Next(9) switch
    {
        0 => "1e400",
        1 => "-1e400",
        2 => "5e-324",
        3 => "-0",
        4 => "1." + new string('3', random.Next(1, 800)),
        5 => "9" + new string('0', random.Next(1, 400)),
        6 => random.NextInt64().ToString(CultureInfo.InvariantCulture),
        7 => (random.NextDouble() * Math.Pow(10, random.Next(-20, 20))).ToString("R", CultureInfo.InvariantCulture),
        _ => "-9223372036854775809",
    };

    private static string OddName(Random random) => Pick(random, "\"\\ud800\"", "\"\\udc00\\ud800\"", "\"\"", "\"\\u0000\"", "\"\ud83d\ude9a\"", "\"kpa\"", "\"__proto__\"", $"\"{new string('n', 600)}\"", "\"\\u006bpa\"");

    private static string OddTime(Random random) => Pick(random, "0", "-1", "1772431200", "1772431200000.5", "253402300799999", "253402300800000", "\"2026-02-30T00:00:00Z\"", "\"2026-03-02T06:00:00+01:00\"", "\"now\"", "\"\\ud800\"", "null");

    private static string Swap(string text) => string.Concat(text.Select(c => c switch
    {
        '{' => '[',
        '}' => ']',
        '[' => '{',
        ']' => '}',
        _ => c,
    }));

    private static string Repeated(string sample, int times, Random random) =>
        "{\"samples\":[" + string.Join(',', Enumerable.Repeat(sample, times)) + (random.Next(2) == 0 ? "]}" : "],\"x\":1}");

    // Spaces between name and value count as bytes and as nothing else.
    private static string Padded(string text, int bytes) => text.Insert(1, new string(' ', Math.Max(0, bytes - Encoding.UTF8.GetByteCount(text))));

    private static string OneOf(Regex pattern, string text, Random random, string by)
    {
        var count = pattern.Count(text);
        if (count == 0) return text;
        var chosen = random.Next(count);
        return pattern.Replace(text, m => chosen-- == 0 ? by : m.Value);
    }

    private static string Pick(Random random, params ReadOnlySpan<string> from) => from[random.Next(from.Length)];

    [GeneratedRegex(""" "samples":\[.*\] """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Samples();

    [GeneratedRegex(""":(-?[0-9][0-9.eE+-]*)""")]
    private static partial Regex Number();

    [GeneratedRegex(""":"[^"]*" """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Text();

    [GeneratedRegex(""" "[^"]*": """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Name();

    [GeneratedRegex(""" "t":(?:[0-9]+|"[^"]*") """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Time();
}

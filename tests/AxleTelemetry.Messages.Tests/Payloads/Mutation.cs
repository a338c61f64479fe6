using System.Text;

namespace AxleTelemetry.Messages.Tests.Payloads;

/// <summary>Spoils payloads in the ways that devices, cables and ill will do. Every spoiling follows from its random numbers alone.</summary>
internal static class Mutation
{
    private static readonly string[] Values =
    [
        "null", "true", "\"\"", "[]", "{}", "1e999", "-1e999", "1e-999", "4.9e-324", "-0", "1E+2", "9223372036854775808", "1e99999999999", "0.00000000000000000000000001",
        "-5.0000001", "1600.0001", "NaN", "Infinity", "-", "+1", ".5", "1.", "00", "\"\\ud800\"", "\"\\udc00\\ud800\"", "\"\\u0000\"", "\"\u2028\"", "'x'",
        "[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]", "{\"a\":{\"a\":{\"a\":1}}}", "/*x*/1", "\"2026-03-02T06:14:05.000Z\"", "\"9999-12-31T23:59:59Z\"", "1772432045000", "-1",
    ];

    private static readonly string[] Names =
    [
        "t", "kpa", "axles", "samples", "seq", "boot", "vehicle", "lat", "lon", "mode", "ride", "trailers", "online", "drive", "tag", "\\ud800", "\\u0074", "", "\u00e9", "by",
    ];

    private static readonly (string Name, Func<byte[], Random, byte[]> Apply)[] Ways =
    [
        ("bytes changed", FlipBytes),
        ("cut off", (payload, random) => payload[..random.Next(payload.Length + 1)]),
        ("cut out", Cut),
        ("bytes inserted", (payload, random) => Insert(payload, random, Bytes(random))),
        ("value inserted", (payload, random) => Insert(payload, random, Encoding.UTF8.GetBytes(Pick(Values, random)))),
        ("value replaced", ReplaceValue),
        ("field inserted", (payload, random) => InsertAfter(payload, random, (byte)'{', $"\"{Pick(Names, random)}\":{Pick(Values, random)},")),
        ("stretch repeated", Double),
        ("nested", Nest),
    ];

    public static byte[] Of(byte[] payload, Random random) => Of(payload, random, out _);

    /// <summary>As the other, and says how; spoiled more than once counts as the last.</summary>
    public static byte[] Of(byte[] payload, Random random, out string how)
    {
        var way = random.Next(Ways.Length + 1);
        if (way == Ways.Length) return Of(Of(payload, random), random, out how);
        how = Ways[way].Name;
        return Ways[way].Apply(payload, random);
    }

    private static string Pick(string[] from, Random random) => from[random.Next(from.Length)];

    private static byte[] Bytes(Random random)
    {
        var bytes = new byte[random.Next(1, 9)];
        random.NextBytes(bytes);
        return bytes;
    }

    private static byte[] FlipBytes(byte[] payload, Random random)
    {
        var copy = (byte[])payload.Clone();
        for (var n = random.Next(1, 4); n > 0 && copy.Length > 0; n--) copy[random.Next(copy.Length)] = (byte)random.Next(256);
        return copy;
    }

    private static byte[] Cut(byte[] payload, Random random)
    {
        var from = random.Next(payload.Length + 1);
        var to = Math.Min(payload.Length, from + random.Next(1, 20));
        return [.. payload[..from], .. payload[to..]];
    }

    private static byte[] Insert(byte[] payload, Random random, byte[] what)
    {
        var at = random.Next(payload.Length + 1);
        return [.. payload[..at], .. what, .. payload[at..]];
    }

    private static byte[] ReplaceValue(byte[] payload, Random random)
    {
        var colon = Nth(payload, (byte)':', random);
        if (colon < 0) return payload;
        var end = payload.AsSpan(colon + 1).IndexOfAny((byte)',', (byte)'}');
        return end < 0 ? payload : [.. payload[..(colon + 1)], .. Encoding.UTF8.GetBytes(Pick(Values, random)), .. payload[(colon + 1 + end)..]];
    }

    private static byte[] InsertAfter(byte[] payload, Random random, byte mark, string what)
    {
        var at = Nth(payload, mark, random) + 1;
        return [.. payload[..at], .. Encoding.UTF8.GetBytes(what), .. payload[at..]];
    }

    // Repeats a stretch between two commas: duplicate keys, duplicate samples.
    private static byte[] Double(byte[] payload, Random random)
    {
        int a = Nth(payload, (byte)',', random), b = Nth(payload, (byte)',', random);
        if (a < 0 || a >= b) return payload;
        return [.. payload[..b], .. payload[a..b], .. payload[b..]];
    }

    private static byte[] Nest(byte[] payload, Random random)
    {
        var depth = random.Next(4) == 0 ? 1000 : random.Next(1, 20);
        var (open, close) = random.Next(2) == 0 ? ("[", "]") : ("{\"x\":", "}");
        var nested = new StringBuilder().Insert(0, open, depth).Append('1').Insert(depth * open.Length + 1, close, random.Next(8) == 0 ? 0 : depth);
        return InsertAfter(payload, random, (byte)'{', $"\"{Pick(Names, random)}\":{nested},");
    }

    private static int Nth(byte[] payload, byte mark, Random random)
    {
        var count = payload.AsSpan().Count(mark);
        var at = -1;
        for (var n = count == 0 ? 0 : random.Next(1, count + 1); n > 0; n--) at = payload.AsSpan(at + 1).IndexOf(mark) + at + 1;
        return at;
    }
}

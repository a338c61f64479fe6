namespace AxleTelemetry.Service.Tests.Serving;

/// <summary>Spoils a topic of the contract.</summary>
internal static class TopicSpoiling
{
    private const int FleetAt = 2, VehicleAt = 3, StreamAt = 4;

    private static readonly string[] Streams = ["pressure", "lift", "condition", "position", "frame", "coupling", "presence"];

    private static readonly (string How, Func<string[], Random, IEnumerable<string>> Apply)[] Ways =
    [
        ("topic without its end", (parts, random) => parts.Take(random.Next(parts.Length))),
        ("topic without a part", (parts, random) => Without(parts, random.Next(parts.Length))),
        ("topic with a further part", (parts, random) => parts.Append(random.Next(2) == 0 ? "more" : "")),
        ("topic with an empty part", (parts, random) => With(parts, random.Next(parts.Length), "")),
        ("topic with a wildcard", (parts, random) => With(parts, random.Next(parts.Length), Pick(random, "+", "#", "T+", "#/x"))),
        ("topic of the broker", (parts, random) => parts.Prepend(Pick(random, "$SYS", "$share", "$queue"))),
        ("topic of another stream", (parts, random) => With(parts, StreamAt, Pick(random, Streams))),
        ("topic of no stream", (parts, random) => With(parts, StreamAt, Pick(random, "advice", "Pressure", "frames", "pressure ", "alerts"))),
        ("topic of no vehicle", (parts, random) => With(parts, VehicleAt, Pick(random, "XX-99", "rt-01", "RT-011", ".", "..", "-"))),
        ("topic of another vehicle", (parts, random) => With(parts, VehicleAt, Pick(random, "RT-01", "TR-04", "ST-06", "SB-07"))),
        ("topic of another fleet", (parts, random) => With(parts, FleetAt, Pick(random, "south", "North", "."))),
        ("topic of another root", (parts, random) => With(parts, random.Next(2), Pick(random, "axle", "v2", "V1", "AXLES"))),
        ("topic very long", (parts, random) => With(parts, random.Next(parts.Length), new string('x', Pick(random, 64, 65, 1000, 70_000)))),
        ("topic beyond ASCII", (parts, random) => With(parts, random.Next(parts.Length), Pick(random, "\u00e9", "RT\u201101", "\u0000", "\ud800", "\udc00\ud800", "\U0001f69a", "a\nb", "\u202e"))),
    ];

    public static IEnumerable<string> Names => Ways.Select(w => w.How);

    public static string Of(string topic, Random random, out string how)
    {
        var (name, apply) = Ways[random.Next(Ways.Length)];
        how = name;
        return string.Join('/', apply(topic.Split('/'), random));
    }

    private static T Pick<T>(Random random, params ReadOnlySpan<T> from) => from[random.Next(from.Length)];

    private static string[] With(string[] parts, int at, string part) => [.. parts[..at], part, .. parts[(at + 1)..]];

    private static string[] Without(string[] parts, int at) => [.. parts[..at], .. parts[(at + 1)..]];
}

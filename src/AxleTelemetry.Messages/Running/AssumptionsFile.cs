using System.Text.Json;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Running;

/// <summary>
/// What running cost is reckoned with, as a file: the shipped one, or an owner's, which changes single values of it. JSON with comments and
/// trailing commas allowed.
/// </summary>
public static class AssumptionsFile
{
    /// <summary>The shipped values.</summary>
    public static Assumptions Shipped { get; } = ReadShipped();

    /// <summary>The shipped file as text, to copy and change.</summary>
    public static byte[] ShippedText() => Resource("assumptions.json");

    /// <summary>The JSON Schema (draft 2020-12) of the file, for editors.</summary>
    public static byte[] SchemaText() => Resource("assumptions.schema.json");

    /// <summary>Reads an owner's file over the shipped values. Never throws; every problem comes back at once, each with its place.</summary>
    public static AssumptionsResult Parse(ReadOnlySpan<byte> text) => Read(text, Shipped);

    private static AssumptionsResult Read(ReadOnlySpan<byte> text, Assumptions? basis)
    {
        if (JsonSource.Read(text, out var unreadable) is not var (source, document)) return new AssumptionsResult.Refused([unreadable!]);
        using (document)
        {
            var problems = new Problems(source);
            var read = Check(source, document.RootElement, new AssumptionsReading(problems, basis));
            return read is not null && !problems.AnyError
                ? new AssumptionsResult.Accepted(read)
                : new AssumptionsResult.Refused(problems.InOrder());
        }
    }

    private static Assumptions? Check(JsonSource source, JsonElement root, AssumptionsReading reading)
    {
        var problems = reading.Problems;
        foreach (var (path, name) in source.Repeated)
            problems.Add(ProblemKind.RepeatedName, JsonPath.Of(path, name), $"'{name}' twice", "A property stands once in its object: remove one of them.");
        new ShapeCheck(problems).Object(root, AssumptionsShape.File, JsonPath.Root);
        return root.ValueKind == JsonValueKind.Object ? reading.Read(new Node(root, AssumptionsShape.File, JsonPath.Root, problems)) : null;
    }

    private static Assumptions ReadShipped() => Read(ShippedText(), null) switch
    {
        AssumptionsResult.Accepted accepted => accepted.Assumptions,
        AssumptionsResult.Refused refused => throw new InvalidOperationException($"The shipped assumptions are wrong: {string.Join(" ", refused.Problems)}"),
        var other => throw new InvalidOperationException($"Unknown result {other}."),
    };

    private static byte[] Resource(string name)
    {
        using var stream = typeof(AssumptionsFile).Assembly.GetManifestResourceStream($"Running/{name}")
            ?? throw new InvalidOperationException($"The resource Running/{name} is missing from the build.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

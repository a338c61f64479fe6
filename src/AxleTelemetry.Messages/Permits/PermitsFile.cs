using System.Text.Json;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Permits;

/// <summary>The permits of a fleet as a file that its owner writes: JSON with comments and trailing commas allowed.</summary>
public static class PermitsFile
{
    /// <summary>The JSON Schema (draft 2020-12) of the file, for editors.</summary>
    public static Stream OpenSchema() =>
        typeof(PermitsFile).Assembly.GetManifestResourceStream("permits.schema.json") ?? throw new InvalidOperationException("The schema is missing from the build.");

    /// <summary>Reads and checks a file by itself. Never throws; every problem comes back at once, each with its place. Whether vehicles and axles exist is for a fleet to say.</summary>
    public static PermitsResult Parse(ReadOnlySpan<byte> text)
    {
        if (JsonSource.Read(text, out var unreadable) is not var (source, document)) return new PermitsResult.Refused([unreadable!]);
        using (document)
        {
            var problems = new Problems(source);
            foreach (var (path, name) in source.Repeated)
                problems.Add(ProblemKind.RepeatedName, JsonPath.Of(path, name), $"'{name}' twice", "A property stands once in its object: remove one of them.");
            new ShapeCheck(problems).Object(document.RootElement, PermitsShape.File, JsonPath.Root);
            if (document.RootElement.ValueKind != JsonValueKind.Object) return new PermitsResult.Refused(problems.InOrder());
            var permits = new PermitsReading(problems).Read(new Node(document.RootElement, PermitsShape.File, JsonPath.Root, problems));
            return problems.AnyError ? new PermitsResult.Refused(problems.InOrder()) : new PermitsResult.Accepted(permits);
        }
    }
}

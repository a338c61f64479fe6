using System.Text.Json;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>The file in which an owner describes one vehicle: JSON with comments and trailing commas allowed.</summary>
public static class VehicleFile
{
    /// <summary>Reads and checks a file as a whole. Never throws; every problem comes back at once, each with its place.</summary>
    public static VehicleFileResult Parse(ReadOnlySpan<byte> text)
    {
        if (JsonSource.Read(text, out var unreadable) is not var (source, document)) return new VehicleFileResult.Refused([unreadable!]);
        using (document)
        {
            var problems = new Problems(source);
            var draft = Check(source, document.RootElement, problems);
            return draft is not null && !problems.AnyError
                ? new VehicleFileResult.Accepted(VehicleBuilder.Build(draft), problems.InOrder())
                : new VehicleFileResult.Refused(problems.InOrder());
        }
    }

    /// <summary>The JSON Schema (draft 2020-12) of the file, for editors.</summary>
    public static Stream OpenSchema() =>
        typeof(VehicleFile).Assembly.GetManifestResourceStream("vehicle.schema.json")
        ?? throw new InvalidOperationException("The schema is missing from the build.");

    private static Draft? Check(JsonSource source, JsonElement root, Problems problems)
    {
        foreach (var (path, name) in source.Repeated)
            problems.Add(ProblemKind.RepeatedName, JsonPath.Of(path, name), $"'{name}' twice", "A property stands once in its object: remove one of them.");
        new ShapeCheck(problems).Object(root, VehicleShape.Vehicle, JsonPath.Root);
        if (root.ValueKind != JsonValueKind.Object) return null;

        var draft = new Draft(new Node(root, VehicleShape.Vehicle, JsonPath.Root, problems), problems);
        AxleChecks.Run(draft);
        GroupChecks.Run(draft);
        ModeChecks.Run(draft);
        SensorChecks.Run(draft);
        CouplingChecks.Run(draft);
        KerbChecks.Run(draft);
        MassChecks.Run(draft);
        return draft;
    }
}

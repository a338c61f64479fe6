namespace AxleTelemetry.Messages.Limits;

/// <summary>Limits from a file: the tables shipped with the product, or one that the owner has written or changed.</summary>
public static class LimitSetFile
{
    /// <summary>Name of the shipped table of Council Directive 96/53/EC, Annex I.</summary>
    public const string Directive = "eu-96-53-ec";

    /// <summary>Name of the shipped table of the federal limits of the United States. It is in use only where settings name it.</summary>
    public const string UnitedStates = "us-federal";

    /// <summary>Names of the shipped national tables of Europe.</summary>
    public static IReadOnlyList<string> NationalNames => [
        "am-national", "at-national", "az-national", "be-national", "ch-national", "cz-national", "de-national", "es-national", "fi-national", "fr-national", "gr-national", "it-national",
        "lu-national", "md-national", "nl-national", "pl-national", "pt-national", "se-national", "si-national",
    ];

    /// <summary>Names of the tables that are in use where settings name none: the Directive and the national ones over it.</summary>
    public static IReadOnlyList<string> BookNames { get; } = [Directive, .. NationalNames];

    /// <summary>Names of all shipped tables.</summary>
    public static IReadOnlyList<string> ShippedNames { get; } = [Directive, .. NationalNames, UnitedStates];

    /// <summary>A shipped table, parsed.</summary>
    public static LimitSetResult Shipped(string name) => LimitSetParser.Parse(ShippedText(name));

    /// <summary>A shipped table as text, to copy and change. Throws <see cref="ArgumentException"/> for a name that is not shipped.</summary>
    public static byte[] ShippedText(string name) =>
        ShippedNames.Contains(name) ? Resource($"{name}.json") : throw new ArgumentException($"'{name}' is not shipped.", nameof(name));

    /// <summary>The JSON schema of the format.</summary>
    public static byte[] SchemaText() => Resource("limit-set.schema.json");

    /// <summary>A file of the owner's. A file that cannot be read is refused with its reason, as any other error.</summary>
    public static LimitSetResult Load(string path)
    {
        try
        {
            return LimitSetParser.Parse(File.ReadAllBytes(path));
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            return new LimitSetResult.Refused([new LimitFileError(path, "a file that cannot be read", unreadable.Message)]);
        }
    }

    private static byte[] Resource(string name)
    {
        using var stream = typeof(LimitSetFile).Assembly.GetManifestResourceStream($"Limits/{name}")
            ?? throw new InvalidOperationException($"The resource Limits/{name} is missing from the build.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>The file in which an operator sets up the service: JSON with comments and trailing commas allowed, usually <c>axletelemetry.json</c>.</summary>
public static class SettingsFile
{
    private static readonly ImmutableArray<string> NamesOfSecrets = ["password_file", "api_token_file", "credentials_file", "token_file", "secret_file", "client_secret_file"];

    /// <summary>Reads and checks a file as a whole, but opens no other. Never throws; every problem comes back at once, each with its place.</summary>
    public static SettingsResult Parse(ReadOnlySpan<byte> text)
    {
        if (JsonSource.Read(text, out var unreadable) is not var (source, document)) return new SettingsResult.Refused([unreadable!]);
        using (document)
        {
            var problems = new Problems(source);
            var settings = Check(source, document.RootElement, problems);
            ImmutableArray<Problem> all = [.. problems.InOrder().Select(Hide)];
            return settings is not null && !problems.AnyError ? new SettingsResult.Accepted(settings, all) : new SettingsResult.Refused(all);
        }
    }

    /// <summary>The JSON Schema (draft 2020-12) of the file, for editors.</summary>
    public static Stream OpenSchema() =>
        typeof(SettingsFile).Assembly.GetManifestResourceStream("axletelemetry.schema.json")
        ?? throw new InvalidOperationException("The schema is missing from the build.");

    private static ServiceSettings? Check(JsonSource source, JsonElement root, Problems problems)
    {
        foreach (var (path, name) in source.Repeated)
            problems.Add(ProblemKind.RepeatedName, JsonPath.Of(path, name), $"'{name}' twice", "A property stands once in its object: remove one of them.");
        new ShapeCheck(problems).Object(root, SettingsShape.Settings, JsonPath.Root);
        if (root.ValueKind != JsonValueKind.Object) return null;

        var node = new Node(root, SettingsShape.Settings, JsonPath.Root, problems);
        var broker = new BrokerReading(problems).Read(node);
        var http = new HttpReading(problems).Read(node.Part("http"));
        var series = new SeriesReading(problems).Read(node.Part("series"));
        var delivery = new DeliveryReading(node, problems).Read();
        var shards = new ShardReading(problems).Read(node);
        return problems.AnyError ? null : SettingsBuilder.Build(node, broker!, http!) with { Shards = shards, Series = series, Delivery = delivery };
    }

    // Whoever puts the secret itself where the name of its file belongs must not find it in a log.
    private static Problem Hide(Problem problem) => NamesOfSecrets.Any(name => problem.Path.EndsWith("." + name, StringComparison.Ordinal)) && problem.Found.Length > 0
        ? problem with { Found = "something that is not shown" }
        : problem;
}

/// <summary>What came of reading a settings file.</summary>
public abstract record SettingsResult
{
    private SettingsResult() { }

    /// <summary>The errors, then the warnings, each in the order of the text.</summary>
    public abstract ImmutableArray<Problem> Problems { get; }

    /// <summary>The settings are whole and consistent; there may be warnings.</summary>
    public sealed record Accepted(ServiceSettings Settings, ImmutableArray<Problem> Warnings) : SettingsResult
    {
        /// <inheritdoc/>
        public override ImmutableArray<Problem> Problems => Warnings;
    }

    /// <summary>They are not, and every reason why.</summary>
    public sealed record Refused(ImmutableArray<Problem> All) : SettingsResult
    {
        /// <inheritdoc/>
        public override ImmutableArray<Problem> Problems => All;
    }
}

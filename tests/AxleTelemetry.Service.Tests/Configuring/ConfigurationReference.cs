using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace AxleTelemetry.Service.Tests.Configuring;

/// <summary>docs/configuration.md, written from the schema that settings are read by and from the options of the command: nothing in it is by hand but the few sentences around the tables.</summary>
internal sealed class ConfigurationReference(JsonElement schema)
{
    private readonly StringBuilder _text = new();

    /// <summary>The whole page.</summary>
    public string Write(Command serve)
    {
        _text.Append("# Configuration\n\nMade from `axletelemetry.schema.json` and the command's own options; do not write here (DEVELOPERS.md, 'Configuration reference').\n\n");
        _text.Append(CultureInfo.InvariantCulture, $"{schema.GetProperty("description").GetString()}\n\n");
        _text.Append("The file may hold comments (`//`). `axletelemetry check FILE` says everything that is wrong with it, each with its key, its value and what would be right.\n\n");
        Options(serve);
        Environment();
        _text.Append("## Keys\n\nA key in **bold** is needed where its part is written. Sizes of texts are characters, of lists entries. `NAME` stands for a name of your own.\n\n");
        Part("", schema);
        return _text.ToString().TrimEnd() + "\n";
    }

    private void Options(Command serve)
    {
        _text.Append("## On the command line\n\n`axletelemetry serve` takes\n\n| option | what |\n| --- | --- |\n");
        foreach (var option in serve.Options.Where(o => !o.Hidden && o.Description is not null))
            _text.Append(CultureInfo.InvariantCulture, $"| `{option.Name}{(option.ValueType == typeof(bool) ? "" : $" {option.HelpName ?? "VALUE"}")}`{(option.Required ? " (needed)" : "")} | {Cell(option.Description!)} |\n");
        _text.Append('\n');
    }

    private void Environment()
    {
        _text.Append("## In the environment\n\nNo setting can be given there, and no secret. One variable is read:\n\n| variable | what |\n| --- | --- |\n");
        foreach (var (name, about) in Variables) _text.Append(CultureInfo.InvariantCulture, $"| `{name}` | {about} |\n");
        _text.Append('\n');
    }

    /// <summary>Variables of the environment that the service looks at; a test compares them with the source.</summary>
    public static (string Name, string About)[] Variables { get; } =
    [
        ("OTEL_EXPORTER_OTLP_ENDPOINT", "Where metrics are pushed to by OTLP; without it they are only to be fetched at `/metrics`. The other variables of the OpenTelemetry exporter hold with it."),
    ];

    private void Part(string path, JsonElement part)
    {
        _text.Append(CultureInfo.InvariantCulture, $"### {(path.Length == 0 ? "The file" : $"`{path}`")}\n\n");
        if (path.Length > 0) _text.Append(CultureInfo.InvariantCulture, $"{About(part, part)}\n\n");
        _text.Append("| key | type | range | default | example | what |\n| --- | --- | --- | --- | --- | --- |\n");
        var needed = part.TryGetProperty("required", out var list) ? list.EnumerateArray().Select(e => e.GetString()).ToHashSet() : [];
        foreach (var property in part.GetProperty("properties").EnumerateObject())
        {
            var name = needed.Contains(property.Name) ? $"**`{property.Name}`**" : $"`{property.Name}`";
            var form = Follow(property.Value);
            _text.Append(CultureInfo.InvariantCulture, $"| {name} | {Type(form)} | {Range(form)} | {Default(property.Value, form)} | {Example(property.Value, form)} | {Cell(About(property.Value, form))} |\n");
        }

        _text.Append('\n');
        foreach (var property in part.GetProperty("properties").EnumerateObject()) Within(path.Length == 0 ? property.Name : $"{path}.{property.Name}", Follow(property.Value));
    }

    /// <summary>Parts within a key are told behind the one they stand in.</summary>
    private void Within(string path, JsonElement form)
    {
        if (form.TryGetProperty("properties", out _)) Part(path, form);
        else if (form.TryGetProperty("items", out var items)) Within($"{path}[]", Follow(items));
        else if (form.TryGetProperty("additionalProperties", out var values) && values.ValueKind == JsonValueKind.Object) Within($"{path}.NAME", Follow(values));
    }

    private string Type(JsonElement form)
    {
        if (form.TryGetProperty("enum", out _)) return "word";
        return form.GetProperty("type").GetString() switch
        {
            "string" when form.TryGetProperty("pattern", out _) => "name",
            "string" => "text",
            "integer" => "whole number",
            "number" => "number",
            "boolean" => "true or false",
            "array" => $"list of {Plural(Type(Follow(form.GetProperty("items"))))}",
            "object" when form.TryGetProperty("additionalProperties", out var values) && values.ValueKind == JsonValueKind.Object => $"by name, each {Article(Type(Follow(values)))}",
            "object" => "part",
            var other => throw new InvalidOperationException($"A type that nobody tells: {other}."),
        };
    }

    private string Range(JsonElement form)
    {
        if (form.TryGetProperty("enum", out var words)) return string.Join(", ", words.EnumerateArray().Select(Code));
        if (form.TryGetProperty("minimum", out var low)) return $"{Number(low)} to {Number(form.GetProperty("maximum"))}";
        foreach (var (least, most) in (ReadOnlySpan<(string, string)>)[("minLength", "maxLength"), ("minItems", "maxItems"), ("minProperties", "maxProperties")])
            if (form.TryGetProperty(most, out var size)) return $"{(form.TryGetProperty(least, out var fewest) ? Number(fewest) : "0")} to {Number(size)}{(form.TryGetProperty("pattern", out _) ? " of A-Z a-z 0-9 . _ -" : "")}";
        return "";
    }

    // A key may leave it to its part to say what it is.
    private static string About(JsonElement property, JsonElement form) =>
        (property.TryGetProperty("description", out var about) || form.TryGetProperty("description", out about) ? about.GetString() : null) ?? throw new InvalidOperationException($"Nothing is said of {property.GetRawText()}.");

    private static string Default(JsonElement property, JsonElement form) =>
        property.TryGetProperty("default", out var value) || form.TryGetProperty("default", out value) ? Code(value) : "";

    private string Example(JsonElement property, JsonElement form)
    {
        if (property.TryGetProperty("examples", out var own) || form.TryGetProperty("examples", out own)) return Code(own[0]);
        if (property.TryGetProperty("default", out var usual) || form.TryGetProperty("default", out usual)) return Code(usual);
        if (form.TryGetProperty("enum", out var words)) return Code(words[0]);
        if (form.TryGetProperty("minimum", out var low)) return Code(low);
        if (form.TryGetProperty("type", out var type) && type.GetString() == "boolean") return "`true`";
        return form.TryGetProperty("items", out var items) && Example(items, Follow(items)) is ['`', .. var inner, '`'] ? $"`[{inner}]`" : "";
    }

    private static string Article(string type) => type switch
    {
        "part" => "a part",
        _ => $"a {type}",
    };

    private static string Plural(string type) => type == "true or false" ? type : $"{type}s";

    private static string Code(JsonElement value) => $"`{value.GetRawText()}`";

    private static string Number(JsonElement value) => value.GetDouble().ToString("#,0.####", Spaced);

    private static readonly NumberFormatInfo Spaced = new() { NumberGroupSeparator = " " };

    private static string Cell(string text) => text.ReplaceLineEndings(" ").Replace("|", "\\|", StringComparison.Ordinal);

    private JsonElement Follow(JsonElement written) => written.TryGetProperty("$ref", out var reference) ? schema.GetProperty("$defs").GetProperty(reference.GetString()!["#/$defs/".Length..]) : written;
}

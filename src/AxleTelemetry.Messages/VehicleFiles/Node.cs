using System.Collections.Immutable;
using System.Text.Json;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>
/// An object of a file, read by property. Gives only what the shape check found good, so that one mistake is told once and
/// nothing is concluded from it.
/// </summary>
internal sealed class Node(JsonElement element, Shape shape, string path, Problems problems)
{
    /// <summary>Where it stands.</summary>
    public string Path => path;

    /// <summary>Where a property of it stands, or would.</summary>
    public string PathOf(string name) => JsonPath.Of(path, Declared(name).Name);

    /// <summary>True where the property is written, good or not.</summary>
    public bool Has(string name) => element.TryGetProperty(Declared(name).Name, out _);

    /// <summary>A number, or <c>null</c>.</summary>
    public double? Number(string name) => Good(name) is { ValueKind: JsonValueKind.Number } value ? value.GetDouble() : null;

    /// <summary>A text, or <c>null</c>.</summary>
    public string? Text(string name) => Good(name) is { ValueKind: JsonValueKind.String } value ? value.GetString() : null;

    /// <summary>A flag, or <c>null</c>.</summary>
    public bool? Flag(string name) => Good(name)?.ValueKind switch
    {
        JsonValueKind.True => true,
        JsonValueKind.False => false,
        _ => null,
    };

    /// <summary>A case of an enumeration, or <c>null</c>.</summary>
    public T? Word<T>(string name) where T : struct, Enum => Words.Read<T>(Text(name));

    /// <summary>An object within, or <c>null</c>.</summary>
    public Node? Part(string name) => Good(name) is { ValueKind: JsonValueKind.Object } value
        ? new Node(value, ((Form.Part)Declared(name).Form).Shape, JsonPath.Of(path, name), problems)
        : null;

    /// <summary>The objects of a list, faulty ones left out.</summary>
    public ImmutableArray<Node> Parts(string name)
    {
        var part = (Form.Part)((Form.List)Declared(name).Form).Item;
        return [.. Entries(name).Where(e => e.Value.ValueKind == JsonValueKind.Object).Select(e => new Node(e.Value, part.Shape, e.Path, problems))];
    }

    /// <summary>The texts of a list, faulty ones left out.</summary>
    public ImmutableArray<(string Text, string Path)> Texts(string name) =>
        Good(name) is { ValueKind: JsonValueKind.Array } list ? TextsIn(list, PathOf(name)) : [];

    /// <summary>The numbers of an object by axle, faulty ones left out; <c>null</c> where it is not written.</summary>
    public ImmutableDictionary<string, double>? ByAxle(string name)
    {
        if (Good(name) is not { ValueKind: JsonValueKind.Object } value) return null;
        var numbers = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var property in value.EnumerateObject())
            if (property.Value.ValueKind == JsonValueKind.Number && !problems.IsFaulty(JsonPath.Of(PathOf(name), property.Name)))
                numbers[property.Name] = property.Value.GetDouble();
        return numbers.ToImmutable();
    }

    /// <summary>The objects of an object by name, in the order of the text, faulty ones left out.</summary>
    public ImmutableArray<(string Name, Node Part)> NamedParts(string name)
    {
        var part = (Form.Part)((Form.Named)Declared(name).Form).Value;
        return [.. Named(name).Where(e => e.Value.ValueKind == JsonValueKind.Object).Select(e => (e.Name, new Node(e.Value, part.Shape, e.Path, problems)))];
    }

    /// <summary>The lists of texts of an object by name, in the order of the text, faulty ones left out.</summary>
    public ImmutableArray<(string Name, string Path, ImmutableArray<(string Text, string Path)> Texts)> NamedTexts(string name) =>
        [.. Named(name).Where(e => e.Value.ValueKind == JsonValueKind.Array).Select(e => (e.Name, e.Path, TextsIn(e.Value, e.Path)))];

    /// <summary>The axle keys written in an object by axle, good values or not.</summary>
    public ImmutableArray<string> KeysOf(string name) =>
        Good(name) is { ValueKind: JsonValueKind.Object } value ? [.. value.EnumerateObject().Select(p => p.Name)] : [];

    private IEnumerable<(JsonElement Value, string Path)> Entries(string name) =>
        Good(name) is { ValueKind: JsonValueKind.Array } list ? EntriesIn(list, PathOf(name)) : [];

    private static IEnumerable<(JsonElement Value, string Path)> EntriesIn(JsonElement list, string at) =>
        list.EnumerateArray().Select((value, i) => (value, JsonPath.Of(at, i)));

    private ImmutableArray<(string Text, string Path)> TextsIn(JsonElement list, string at) =>
        [.. EntriesIn(list, at).Where(e => e.Value.ValueKind == JsonValueKind.String && !problems.IsFaulty(e.Path)).Select(e => (e.Value.GetString()!, e.Path))];

    private IEnumerable<(string Name, JsonElement Value, string Path)> Named(string name) =>
        Good(name) is { ValueKind: JsonValueKind.Object } value
            ? value.EnumerateObject().Select(p => (p.Name, p.Value, Path: JsonPath.Of(PathOf(name), p.Name))).Where(e => !problems.IsFaulty(e.Path))
            : [];

    private JsonElement? Good(string name) =>
        element.TryGetProperty(Declared(name).Name, out var value) && !problems.IsFaulty(JsonPath.Of(path, name)) ? value : null;

    private Property Declared(string name) =>
        shape.Find(name) ?? throw new InvalidOperationException($"'{name}' is no property of {shape.Name}.");
}

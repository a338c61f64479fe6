using System.Globalization;
using System.Text.Json;

namespace AxleTelemetry.Messages.Limits;

/// <summary>
/// One object of a file with its path. Reads members, notes what is wrong in the common list and goes on with a stand-in, so
/// that one pass finds every error. Members that nobody asked for are errors too: a misspelt key must not be ignored.
/// </summary>
internal sealed class JsonPlace(JsonElement element, string path, List<LimitFileError> errors)
{
    private readonly HashSet<string> _known = [];

    public string Path => path;

    public bool Has(string key) => element.TryGetProperty(key, out _);

    public string Text(string key, bool required = true)
    {
        if (!Find(key, required, "a text", out var value)) return "";
        if (value.ValueKind == JsonValueKind.String && (!required || value.GetString()!.Length > 0)) return value.GetString()!;
        Wrong(key, value, required ? "a text that is not empty" : "a text");
        return "";
    }

    public double? Number(string key, double least, double most, bool required = true)
    {
        var expected = string.Create(CultureInfo.InvariantCulture, $"a number from {least} to {most}");
        if (!Find(key, required, expected, out var value)) return null;
        if (value.ValueKind == JsonValueKind.Number && value.GetDouble() is var number && number >= least && number <= most) return number;
        Wrong(key, value, expected);
        return null;
    }

    public int? Whole(string key, int least, int most, bool required = true)
    {
        var expected = $"a whole number from {least} to {most}";
        if (!Find(key, required, expected, out var value)) return null;
        if (value.ValueKind == JsonValueKind.Number && value.GetDouble() is var number && number == Math.Floor(number) && number >= least && number <= most) return (int)number;
        Wrong(key, value, expected);
        return null;
    }

    public bool Flag(string key, bool required = false)
    {
        if (!Find(key, required, "true or false", out var value)) return false;
        if (value.ValueKind is JsonValueKind.True or JsonValueKind.False) return value.GetBoolean();
        Wrong(key, value, "true or false");
        return false;
    }

    public T? Word<T>(string key, Dictionary<string, T> words, bool required = true) where T : struct
    {
        var expected = "one of " + string.Join(", ", words.Keys);
        if (!Find(key, required, expected, out var value)) return null;
        if (value.ValueKind == JsonValueKind.String && words.TryGetValue(value.GetString()!, out var word)) return word;
        Wrong(key, value, expected);
        return null;
    }

    public JsonPlace? Object(string key, string expected)
    {
        if (!Find(key, false, expected, out var value)) return null;
        if (value.ValueKind == JsonValueKind.Object) return new JsonPlace(value, $"{path}.{key}", errors);
        Wrong(key, value, expected);
        return null;
    }

    /// <summary>The value itself where a key allows more than one shape; counts as asked for.</summary>
    public JsonElement? Any(string key, string expected) => Find(key, true, expected, out var value) ? value : null;

    public IEnumerable<(JsonElement Value, string Path)> Items(string key, bool required)
    {
        if (!Find(key, required, "a list", out var value)) yield break;
        if (value.ValueKind != JsonValueKind.Array || (required && value.GetArrayLength() == 0))
        {
            Wrong(key, value, required ? "a list with at least one entry" : "a list");
            yield break;
        }

        var index = 0;
        foreach (var item in value.EnumerateArray()) yield return (item, $"{path}.{key}[{index++}]");
    }

    public void Wrong(string key, string expected)
    {
        if (element.TryGetProperty(key, out var value)) Wrong(key, value, expected);
        else errors.Add(new LimitFileError($"{path}.{key}", "nothing", expected));
    }

    /// <summary>Notes the members that nobody asked for; the last thing done with an object.</summary>
    public void Close()
    {
        foreach (var member in element.EnumerateObject())
            if (!_known.Contains(member.Name))
                errors.Add(new LimitFileError($"{path}.{member.Name}", "an unknown key", "one of " + string.Join(", ", _known)));
    }

    public static string Shown(JsonElement value)
    {
        var raw = value.GetRawText();
        return raw.Length <= 60 ? raw : raw[..57] + "...";
    }

    private bool Find(string key, bool required, string expected, out JsonElement value)
    {
        _known.Add(key);
        if (element.TryGetProperty(key, out value)) return true;
        if (required) errors.Add(new LimitFileError($"{path}.{key}", "nothing", expected));
        return false;
    }

    private void Wrong(string key, JsonElement value, string expected) =>
        errors.Add(new LimitFileError($"{path}.{key}", Shown(value), expected));
}

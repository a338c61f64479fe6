using System.Text.Json;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Holds a JSON value against the table of what a file may contain: names, types, ranges, words, counts.</summary>
internal sealed class ShapeCheck(Problems problems)
{
    /// <summary>Checks an object and everything in it.</summary>
    public void Object(JsonElement element, Shape shape, string path)
    {
        if (!Is(element, JsonValueKind.Object, path, "An object in braces belongs here.")) return;
        foreach (var property in element.EnumerateObject())
        {
            if (shape.Find(property.Name) is { } known) Value(property.Value, known.Form, JsonPath.Of(path, property.Name));
            else Unknown(property.Name, shape, path);
        }

        foreach (var property in shape.Properties)
            if (property.Required && !element.TryGetProperty(property.Name, out _))
                problems.Add(ProblemKind.Missing, JsonPath.Of(path, property.Name), "", $"'{property.Name}' is needed here: {Describe(property.Form)}.");
    }

    private void Unknown(string name, Shape shape, string path)
    {
        var known = shape.Properties.Select(p => p.Name);
        var right = Nearest.To(name, known) is { } near
            ? $"There is no such property. Did you mean '{near}'?"
            : $"There is no such property. Known here: {string.Join(", ", known)}.";
        problems.Add(ProblemKind.UnknownName, JsonPath.Of(path, name), $"'{Shorten(name)}'", right);
    }

    private void Value(JsonElement element, Form form, string path)
    {
        switch (form)
        {
            case Form.Number number: Number(element, number, path); break;
            case Form.Text text: Text(element, text, path); break;
            case Form.Flag: Flag(element, path); break;
            case Form.Choice choice: Choice(element, choice, path); break;
            case Form.Part part: Object(element, part.Shape, path); break;
            case Form.List list: List(element, list, path); break;
            case Form.ByAxle byAxle: ByAxle(element, byAxle, path); break;
            case Form.Named named: Named(element, named, path); break;
            default: throw new InvalidOperationException($"No check for {form.GetType().Name}.");
        }
    }

    private void Number(JsonElement element, Form.Number form, string path)
    {
        if (!Is(element, JsonValueKind.Number, path, $"A number belongs here, without quotes: {Describe(form)}.")) return;
        var value = element.GetDouble();
        if (!(value >= form.Low && value <= form.High) || form.Whole && value != Math.Floor(value))
            problems.Add(ProblemKind.OutOfRange, path, Shorten(element.GetRawText()), $"Right is {Describe(form)}.");
    }

    private void Text(JsonElement element, Form.Text form, string path)
    {
        if (!Is(element, JsonValueKind.String, path, "A text in quotes belongs here.")) return;
        var value = element.GetString()!;
        if (value.Length < form.Least || value.Length > form.Most || form.IsKey && !value.All(IsKeyCharacter) || value.Any(char.IsControl))
            problems.Add(ProblemKind.BadText, path, Shorten(element.GetRawText()), $"Right is {Describe(form)}.");
    }

    private void Flag(JsonElement element, string path)
    {
        if (element.ValueKind is not (JsonValueKind.True or JsonValueKind.False))
            problems.Add(ProblemKind.WrongType, path, Found(element), "true or false belongs here, without quotes.");
    }

    private void Choice(JsonElement element, Form.Choice form, string path)
    {
        if (!Is(element, JsonValueKind.String, path, $"Right is {Describe(form)}.")) return;
        var value = element.GetString()!;
        if (form.Words.Contains(value)) return;
        var meant = Nearest.To(value, form.Words) is { } near ? $" Did you mean '{near}'?" : "";
        problems.Add(ProblemKind.NotAChoice, path, Found(element), $"Right is {Describe(form)}.{meant}");
    }

    private void List(JsonElement element, Form.List form, string path)
    {
        if (!Is(element, JsonValueKind.Array, path, "A list in square brackets belongs here.")) return;
        var count = element.GetArrayLength();
        if (count < form.Least || count > form.Most)
            problems.Add(ProblemKind.WrongCount, path, $"{count} entries", $"Right is {form.Least} to {form.Most} entries.");
        var i = 0;
        foreach (var item in element.EnumerateArray()) Value(item, form.Item, JsonPath.Of(path, i++));
    }

    private void ByAxle(JsonElement element, Form.ByAxle form, string path)
    {
        if (!Is(element, JsonValueKind.Object, path, "A number for each axle belongs here, as in { \"steer\": 5200, \"drive\": 4100 }.")) return;
        foreach (var property in element.EnumerateObject()) Number(property.Value, form.Value, JsonPath.Of(path, property.Name));
    }

    private void Named(JsonElement element, Form.Named form, string path)
    {
        if (!Is(element, JsonValueKind.Object, path, $"Right is {Describe(form)}, in braces.")) return;
        var count = 0;
        foreach (var property in element.EnumerateObject())
        {
            count++;
            if (!Id.IsValid(property.Name)) problems.Add(ProblemKind.BadText, JsonPath.Of(path, property.Name), $"'{Shorten(property.Name)}'", $"A name is {Id.Rule}.");
            Value(property.Value, form.Value, JsonPath.Of(path, property.Name));
        }

        if (count < form.Least || count > form.Most)
            problems.Add(ProblemKind.WrongCount, path, $"{count} entries", $"Right is {form.Least} to {form.Most} entries.");
    }

    private bool Is(JsonElement element, JsonValueKind kind, string path, string right)
    {
        if (element.ValueKind == kind) return true;
        problems.Add(ProblemKind.WrongType, path, Found(element), right);
        return false;
    }

    private static string Describe(Form form) => form switch
    {
        Form.Number n => $"a {(n.Whole ? "whole number" : "number")} from {Problems.Say(n.Low)} to {Problems.Say(n.High)}",
        Form.Text { IsKey: true } t => $"{t.Least} to {t.Most} of A-Z a-z 0-9 . _ -",
        Form.Text t => $"a text of {t.Least} to {t.Most} characters",
        Form.Flag => "true or false",
        Form.Choice c => $"one of {string.Join(", ", c.Words)}",
        Form.Part p => $"an object with {string.Join(", ", p.Shape.Properties.Where(x => x.Required).Select(x => x.Name).DefaultIfEmpty(p.Shape.Name))}",
        Form.List => "a list",
        Form.ByAxle => "a number for each axle",
        Form.Named n => $"names of your own, each with {Describe(n.Value)}",
        _ => throw new InvalidOperationException($"No words for {form.GetType().Name}."),
    };

    private static string Found(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        JsonValueKind.Null => "null",
        _ => Shorten(element.GetRawText()),
    };

    private static string Shorten(string text) => text.Length <= 60 ? text : text[..57] + "...";

    private static bool IsKeyCharacter(char c) => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-';
}

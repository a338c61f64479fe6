using System.Text.Json;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

/// <summary>Holds the table that a parser reads by against the schema that editors read by.</summary>
internal sealed class SchemaAgreement(JsonElement root)
{
    public void OnObject(Shape shape, JsonElement schema, string path)
    {
        Assert.False(schema.GetProperty("additionalProperties").GetBoolean(), path);
        var properties = schema.GetProperty("properties");
        Assert.Equal(shape.Properties.Select(p => p.Name), properties.EnumerateObject().Select(p => p.Name));
        var required = schema.TryGetProperty("required", out var list) ? list.EnumerateArray().Select(e => e.GetString()!) : [];
        Assert.Equal(shape.Properties.Where(p => p.Required).Select(p => p.Name), required);
        foreach (var property in shape.Properties)
        {
            var entry = properties.GetProperty(property.Name);
            Assert.False(string.IsNullOrWhiteSpace(entry.GetProperty("description").GetString()), $"{path}.{property.Name} has no description.");
            OnForm(property.Form, entry, $"{path}.{property.Name}");
        }
    }

    private void OnForm(Form form, JsonElement written, string path)
    {
        var schema = Follow(written);
        switch (form)
        {
            case Form.Number number:
                Assert.True(schema.GetProperty("type").GetString() == (number.Whole ? "integer" : "number"), path);
                Assert.Equal((number.Low, number.High), (schema.GetProperty("minimum").GetDouble(), schema.GetProperty("maximum").GetDouble()));
                break;
            case Form.Text text:
                Assert.True(schema.GetProperty("type").GetString() == "string", path);
                Assert.Equal(text.Most, schema.GetProperty("maxLength").GetInt32());
                Assert.Equal(text.Least, schema.TryGetProperty("minLength", out var least) ? least.GetInt32() : 0);
                Assert.Equal(text.IsKey, schema.TryGetProperty("pattern", out _));
                break;
            case Form.Flag:
                Assert.True(schema.GetProperty("type").GetString() == "boolean", path);
                break;
            case Form.Choice choice:
                Assert.Equal(choice.Words, schema.GetProperty("enum").EnumerateArray().Select(e => e.GetString()!));
                break;
            case Form.Part part:
                OnObject(part.Shape, schema, path);
                break;
            case Form.List items:
                Assert.Equal(items.Most, schema.GetProperty("maxItems").GetInt32());
                Assert.Equal(items.Least, schema.TryGetProperty("minItems", out var fewest) ? fewest.GetInt32() : 0);
                OnForm(items.Item, schema.GetProperty("items"), path + "[]");
                break;
            case Form.ByAxle byAxle:
                OnForm(byAxle.Value, schema.GetProperty("additionalProperties"), path + ".*");
                break;
            case Form.Named named:
                Assert.Equal((named.Least, named.Most), (schema.GetProperty("minProperties").GetInt32(), schema.GetProperty("maxProperties").GetInt32()));
                Assert.True(Follow(schema.GetProperty("propertyNames")).TryGetProperty("pattern", out _), path);
                OnForm(named.Value, schema.GetProperty("additionalProperties"), path + ".*");
                break;
            default:
                Assert.Fail($"{path}: no comparison for {form.GetType().Name}.");
                break;
        }
    }

    private JsonElement Follow(JsonElement schema) => schema.TryGetProperty("$ref", out var reference)
        ? root.GetProperty("$defs").GetProperty(reference.GetString()!["#/$defs/".Length..])
        : schema;
}

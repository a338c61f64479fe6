using System.Text;
using System.Text.Json;
using AxleTelemetry.Messages.Limits;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.Limits;

public sealed class LimitSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(Encoding.UTF8.GetString(LimitSetFile.SchemaText()));

    [Fact]
    public void Every_shipped_table_fits_the_schema() =>
        Assert.All(LimitSetFile.ShippedNames, name => Assert.True(IsValid(Encoding.UTF8.GetString(LimitSetFile.ShippedText(name)))));

    [Fact]
    public void A_table_without_rules_does_not() => Assert.False(IsValid("""{ "id": "x" }"""));

    internal static bool IsValid(string json)
    {
        using var document = JsonDocument.Parse(json);
        return Schema.Evaluate(document.RootElement).IsValid;
    }
}

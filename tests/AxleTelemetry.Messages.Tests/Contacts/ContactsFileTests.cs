using System.Text;
using System.Text.Json;
using AxleTelemetry.Messages.Contacts;
using AxleTelemetry.Messages.Tests.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.Contacts;

public sealed class ContactsFileTests
{
    private const string Good = """
        { "contacts": [ { "telephone": "+44 1632 960001", "whose": "driver", "language": "German", "vehicles": ["T-1"] }, // by day
          { "telephone": "01632 960000", "whose": "depot", "language": "English" }, ] }
        """;

    [Fact]
    public void Everything_that_is_written_is_there()
    {
        var contacts = Assert.IsType<ContactsResult.Accepted>(Parse(Good)).Contacts;
        Assert.Equal(["+44 1632 960001 driver German T-1", "01632 960000 depot English "], contacts.Select(c => $"{c.Telephone} {c.Whose} {c.Language} {string.Join(',', c.Vehicles)}"));
    }

    [Theory]
    [InlineData("+44 1632 960001", "call me", "$.contacts[0].telephone")]
    [InlineData("\"whose\": \"driver\", ", "", "$.contacts[0].whose")]
    [InlineData("[\"T-1\"]", "[\"T-1\", \"T-1\"]", "$.contacts[0].vehicles[1]")]
    [InlineData(", \"vehicles\": [\"T-1\"]", "", "$.contacts[1]")]
    [InlineData("\"language\": \"German\"", "\"language\": \"\"", "$.contacts[0].language")]
    [InlineData("\"whose\": \"driver\"", "\"who\": \"driver\", \"whose\": \"driver\"", "$.contacts[0].who")]
    public void Each_mistake_is_told_where_it_is(string good, string bad, string path) =>
        Assert.Equal(path, Assert.Single(Assert.IsType<ContactsResult.Refused>(Parse(Good.Replace(good, bad, StringComparison.Ordinal))).Problems).Path);

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("{}")]
    public void What_is_no_such_file_is_refused(string text) => Assert.IsType<ContactsResult.Refused>(Parse(text));

    [Fact]
    public void Parser_and_schema_agree_on_every_property()
    {
        using var schema = JsonDocument.Parse(ContactsFile.OpenSchema());
        new SchemaAgreement(schema.RootElement).OnObject(ContactsShape.File, schema.RootElement, "$");
    }

    private static ContactsResult Parse(string text) => ContactsFile.Parse(Encoding.UTF8.GetBytes(text));
}

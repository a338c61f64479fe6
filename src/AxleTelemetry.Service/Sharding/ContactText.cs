using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Whom an alert reached or did not, as it stands in the log: JSON, so that whoever audits it can read it.</summary>
internal static class ContactText
{
    private static readonly JsonSerializerOptions Plain = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };

    /// <summary>The row in the log.</summary>
    public static InputRow Row(AlertId alert, Contact contact, Moment now) => new()
    {
        Vehicle = Codes.Of(alert.Vehicle),
        Kind = Codes.ContactInput,
        Received = now,
        Samples = SampleSpan.At(now),
        Bytes = [.. JsonSerializer.SerializeToUtf8Bytes(Of(alert.ToString(), contact), Plain)],
    };

    private static Written Of(string alert, Contact contact) => contact switch
    {
        Contact.Reached => new Written(alert, "reached", contact.Who, contact.Channel, contact.At.ToString()),
        Contact.GivenUp givenUp => new Written(alert, "given_up", contact.Who, contact.Channel, contact.At.ToString(), givenUp.Why),
        _ => throw new ArgumentOutOfRangeException(nameof(contact), contact, "Unknown contact."),
    };

    private sealed record Written(string Alert, string Outcome, string Who, string Channel, string At, string? Why = null);
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>Whom an alert reached or did not, as it stands in the log.</summary>
internal static class ContactText
{
    /// <summary>The row in the log.</summary>
    public static InputRow Row(AlertId alert, Contact contact, Moment now) => JsonInput.Row(alert.Vehicle, Codes.ContactInput, now, Of(alert.ToString(), contact));

    private static Written Of(string alert, Contact contact) => contact switch
    {
        Contact.Reached => new Written(alert, "reached", contact.Who, contact.Channel, contact.At.ToString()),
        Contact.GivenUp givenUp => new Written(alert, "given_up", contact.Who, contact.Channel, contact.At.ToString(), givenUp.Why),
        _ => throw new ArgumentOutOfRangeException(nameof(contact), contact, "Unknown contact."),
    };

    private sealed record Written(string Alert, string Outcome, string Who, string Channel, string At, string? Why = null);
}

using System.Globalization;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>What a mail says: the sentence with its remedy first, then which vehicle and since when. Plain text.</summary>
/// <param name="to">Who reads it.</param>
/// <param name="pages">Where people reach the pages; <c>null</c> where that is not set: then no link is given.</param>
internal sealed class MailText(RecipientSettings to, Uri? pages)
{
    private const int MostLines = 200, MostSubject = 200;

    private readonly DeliveryTexts _texts = DeliveryTexts.Of(to.Language);

    /// <summary>The subject: how urgent, which vehicle, about what.</summary>
    public string Subject(Outgoing message)
    {
        if (message.Parcel.Kind == ParcelKind.Digest) return _texts.With("SubjectDigest", message.Parts.Length);
        var change = AlertMessage.Document(message.Parcel, to.Language);
        var subject = _texts.With(message.Parcel.Kind == ParcelKind.Escalation ? "SubjectEscalation" : "Subject", Priority(change), change.Fleet, change.Vehicle, change.About);
        return subject.Length <= MostSubject ? subject : subject[..MostSubject];
    }

    /// <summary>The body.</summary>
    public string Body(Outgoing message)
    {
        var body = new StringBuilder();
        if (message.Parcel.Kind == ParcelKind.Digest) Digest(body, message);
        else One(body, message.Parcel);
        return body.Append('\n').Append("-- \n").Append(_texts.Caution).Append('\n').ToString();
    }

    private void One(StringBuilder body, Parcel parcel)
    {
        var change = AlertMessage.Document(parcel, to.Language);
        if (parcel.Kind == ParcelKind.Escalation) body.Append(_texts["Escalated"]).Append("\n\n");
        body.Append(change.Sentence).Append("\n\n");
        body.Append(_texts.With("Vehicle", change.Fleet, change.Vehicle)).Append('\n');
        body.Append(_texts.With("Since", Time(change.Since))).Append('\n');
        body.Append(_texts.With("State", _texts.State(change.State.Code))).Append('\n');
        body.Append(pages is null ? _texts.With("AlertId", change.Id) : _texts.With("Link", new Uri(pages, $"/now#{Uri.EscapeDataString(change.Id)}"))).Append('\n');
    }

    private void Digest(StringBuilder body, Outgoing message)
    {
        body.Append(_texts.With("DigestIntro", message.Parts.Length, to.MostPerHour ?? AlarmRate.AcceptablePerHour)).Append("\n\n");
        foreach (var part in message.Parts.Take(MostLines))
        {
            var change = AlertMessage.Part(part, to.Language);
            body.Append(_texts.With("DigestLine", Time(change.At), change.Fleet, change.Vehicle, Priority(change), change.Sentence)).Append('\n');
        }

        if (message.Parts.Length > MostLines) body.Append(_texts.With("DigestMore", message.Parts.Length - MostLines)).Append('\n');
    }

    private string Priority(AlertChangeDocument change) => _texts.Priority(Enum.GetValues<AlertPriority>().First(p => JsonText.Word(p) == change.Priority));

    private static string Time(Moment at) => DateTimeOffset.FromUnixTimeMilliseconds(at.UnixMilliseconds).ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture);
}

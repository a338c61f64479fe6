using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Languages;

/// <summary>What happened to an alert, in German. What people wrote, and what other sides answered, stays as it is.</summary>
/// <param name="about">What an alert is about, in German.</param>
internal sealed class GermanCauses(Func<AlertSubject, string> about)
{
    /// <summary>What happened, in a sentence.</summary>
    public string Of(AlertCause cause) => cause switch
    {
        AlertCause.Joined joined => GermanTexts.Of("HappenedJoined", about(joined.Subject)),
        AlertCause.Eased eased => GermanTexts.Of("HappenedEased", about(eased.Subject)),
        AlertCause.Acted acted => Of(acted.Action),
        AlertCause.Reached { Contact: var contact } => GermanTexts.Of("HappenedReached", contact.Who, Channel(contact)),
        AlertCause.NotReached { Contact: var contact } => GermanTexts.Of("HappenedNotReached", contact.Who, Channel(contact), contact.Why),
        _ => GermanTexts.Of($"Happened{cause.GetType().Name}"),
    };

    private static string Of(OperatorAction action) => action switch
    {
        OperatorAction.Shelve shelve => GermanTexts.Of("HappenedShelve", shelve.Who, Time(shelve.Until), shelve.Reason),
        OperatorAction.StateDone done => GermanTexts.Of("HappenedStateDone", done.Who, done.Text),
        OperatorAction.TakeOutOfService take => GermanTexts.Of("HappenedTakeOutOfService", take.Who, take.Reason),
        _ => GermanTexts.Of($"Happened{action.GetType().Name}", action.Who),
    };

    private static string Channel(Contact contact) => contact.Channel == "mail" ? GermanTexts.Of("ChannelMail") : contact.Channel;

    private static string Time(Moment? at) => at is { } until ? DateTimeOffset.FromUnixTimeMilliseconds(until.UnixMilliseconds).ToString("dd.MM.yyyy HH:mm 'UTC'", CultureInfo.InvariantCulture) : "";
}

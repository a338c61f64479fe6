using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// Who is told of a change. Pure. Whoever was told of an alert hears how it goes on, also where it becomes less grave than his route asks for: else he would
/// never hear that it ended.
/// </summary>
internal sealed class Routing(DeliverySettings settings)
{
    /// <summary>The recipients of a change, each once, and those who will be told unless somebody takes notice.</summary>
    /// <param name="change">The change.</param>
    /// <param name="followers">Who was told of the alert before.</param>
    public Routed Of(ToldChange change, ImmutableArray<string> followers)
    {
        var admitting = settings.Routes.Where(r => Admits(r, change)).ToArray();
        var reached = admitting.SelectMany(r => r.To).Concat(followers).Distinct()
            .Select(settings.Find).OfType<RecipientSettings>().Where(r => Tells(r, change)).Select(r => Parcel(r, change, isFirst: !followers.Contains(r.Name))).ToImmutableArray();
        // However many routes lead to somebody, he is told once at a time; and what somebody puts back by hand does not ring, though nobody has taken notice of it.
        ImmutableArray<Reminder> reminders = (change.Document.Rings || change.IsPutBack) && change.WaitsForNotice
            ? [.. admitting.SelectMany(r => r.Escalation).SelectMany(e => e.To.Select(to => (e.After, To: to))).Distinct().Select(step => Later(step, change))]
            : [];
        return new Routed(reached, reminders);
    }

    /// <summary>The messages of a reminder that is due.</summary>
    public ImmutableArray<NewParcel> Of(Reminder due, Moment at) =>
    [
        .. due.To.Select(settings.Find).OfType<RecipientSettings>()
            .Select(r => new NewParcel(due.Message, r.Name, due.Alert, ParcelKind.Escalation) { IsUrgent = r.MostPerHour is not null, At = at, Bytes = due.Bytes, Channel = Channel(r) }),
    ];

    /// <summary>By what way a recipient is told, as it is entered into the alerts.</summary>
    public static string Channel(RecipientSettings recipient) => recipient.Outlet switch
    {
        OutletSettings.Mail => "mail",
        OutletSettings.Webhook => "webhook",
        _ => throw new ArgumentOutOfRangeException(nameof(recipient), recipient.Outlet, "A way out that nobody knows."),
    };

    private static bool Admits(RouteSettings route, ToldChange change) =>
        (route.Fleets.IsEmpty || route.Fleets.Contains(change.Document.Fleet)) && (route.Kinds.IsEmpty || route.Kinds.Contains(change.Kind))
        && change.Priority >= route.LeastPriority && change.Level >= route.LeastLevel;

    // Whom it reached is told to programs, but for the one that was reached: that one knows.
    private static bool Tells(RecipientSettings recipient, ToldChange change) =>
        (recipient.TellsAll || change.Document.Rings) && !(change.IsOfContact && (recipient.Outlet is OutletSettings.Mail || change.Document.Contact!.Who == recipient.Name));

    private static NewParcel Parcel(RecipientSettings recipient, ToldChange change, bool isFirst) => new(change.Message, recipient.Name, change.Document.Id, ParcelKind.Change)
    {
        // Without a limit nobody waits, and changes stay in their order.
        IsUrgent = recipient.MostPerHour is not null && change.Document.Rings && change.Priority == AlertPriority.High,
        At = change.Document.At,
        Bytes = change.Bytes,
        // Who heard first of it, and who was called: the rest of its course would only repeat that. What tells of contacts is none, or it would go on without end.
        Channel = !change.IsOfContact && (isFirst || change.Document.Rings) ? Channel(recipient) : null,
    };

    private static Reminder Later((TimeSpan After, string To) step, ToldChange change)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"{step.After.TotalMinutes} {step.To}");
        return new(change.Document.Id, name, new Moment(change.Document.At.UnixMilliseconds + (long)step.After.TotalMilliseconds))
        {
            To = [step.To], Message = MessageId.OfReminder(change.Message, name), Bytes = change.Bytes,
        };
    }
}

/// <summary>What follows from a change.</summary>
/// <param name="Parcels">A message to each recipient.</param>
/// <param name="Reminders">Who will be told unless somebody takes notice.</param>
internal sealed record Routed(ImmutableArray<NewParcel> Parcels, ImmutableArray<Reminder> Reminders);

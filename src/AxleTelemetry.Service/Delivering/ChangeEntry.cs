using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>Enters what follows from a change: who is told, who will be told later, who need not be told any more.</summary>
/// <param name="routing">Who is told of what.</param>
/// <param name="alertsByMqtt">True where each change goes to the broker too.</param>
/// <param name="entered">Told when something may be there to be sent.</param>
internal sealed class ChangeEntry(Routing routing, bool alertsByMqtt, Action entered)
{
    /// <summary>The recipient that stands for the broker of a shard; no name in the settings has a colon.</summary>
    public static string Broker(string shard) => $"mqtt:{shard}";

    /// <summary>True for the recipient that stands for a broker.</summary>
    public static bool IsBroker(string recipient) => recipient.StartsWith("mqtt:", StringComparison.Ordinal);

    /// <summary>Something was entered.</summary>
    public void Entered() => entered();

    /// <summary>Enters a change.</summary>
    public void Enter(DeliveryBook book, string shard, ToldChange change)
    {
        var alert = change.Document.Id;
        var routed = routing.Of(change, book.FollowersOf(alert));
        if (alertsByMqtt) book.Add(new NewParcel(change.Message, Broker(shard), alert, ParcelKind.Change) { IsUrgent = false, At = change.Document.At, Bytes = change.Bytes });
        foreach (var parcel in routed.Parcels)
        {
            book.Add(parcel);
            book.Follow(alert, parcel.Recipient);
        }

        if (!change.WaitsForNotice) book.Unremind(alert);
        // Whom it reached is no news to who is told later that nobody acknowledged.
        if (!change.IsOfContact) book.Update(alert, change.Bytes);
        foreach (var reminder in routed.Reminders) book.Remind(reminder);
        if (change.IsOver) book.Forget(alert);
    }

    /// <summary>Enters what is due by now as nobody took notice. True where something was.</summary>
    public bool Remind(DeliveryBook book, Moment now)
    {
        var due = book.TakeDue(now);
        foreach (var parcel in due.SelectMany(d => routing.Of(d, now)))
        {
            book.Add(parcel);
            book.Follow(parcel.Alert, parcel.Recipient);
        }

        return !due.IsEmpty;
    }
}

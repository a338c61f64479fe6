using AxleTelemetry.Messages.Settings;

namespace AxleTelemetry.Service.Delivering;

/// <summary>Publishes each change of an alert on the topic of its fleet: quality of service 1, not retained, the message's id within.</summary>
internal sealed class BrokerOutlet(IPublisher broker) : IOutlet
{
    /// <summary>The topic of a fleet's alerts.</summary>
    public static string Topic(string fleet) => $"{Messages.Topics.Topic.Root}{fleet}/alerts";

    public Task<Handing> SendAsync(Outgoing message, CancellationToken cancel) =>
        broker.PublishAsync(new Publication(Topic(AlertMessage.Document(message.Parcel, Language.En).Fleet), AlertMessage.Write(message, Language.En)), cancel);

    public void Dispose()
    {
    }
}

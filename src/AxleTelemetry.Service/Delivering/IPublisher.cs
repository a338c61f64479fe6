using MQTTnet;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Delivering;

/// <summary>A broker that messages go out by.</summary>
internal interface IPublisher
{
    /// <summary>Publishes once, at quality of service 1. Throws nothing for what the broker or the network does.</summary>
    Task<Handing> PublishAsync(Publication publication, CancellationToken cancel);
}

/// <summary>Something to publish.</summary>
/// <param name="Topic">Where.</param>
/// <param name="Payload">JSON; empty withdraws what is retained.</param>
internal sealed record Publication(string Topic, ReadOnlyMemory<byte> Payload)
{
    /// <summary>True where the broker keeps it for whoever comes later.</summary>
    public bool Retain { get; init; }

    /// <summary>After how long nobody is to be given it any more; <c>null</c> never.</summary>
    public TimeSpan? Expiry { get; init; }

    /// <summary>As MQTT has it.</summary>
    /// <param name="retain">False where the broker must keep nothing.</param>
    public MqttApplicationMessage Message(bool retain)
    {
        var message = new MqttApplicationMessageBuilder().WithTopic(Topic).WithPayload(Payload.ToArray()).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).WithRetainFlag(retain && Retain);
        if (!Payload.IsEmpty) message = message.WithContentType("application/json");
        if (Expiry is { } expiry) message = message.WithMessageExpiryInterval((uint)expiry.TotalSeconds);
        return message.Build();
    }
}

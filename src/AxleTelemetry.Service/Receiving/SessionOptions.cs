using System.Net.Sockets;
using System.Text;
using AxleTelemetry.Messages.Topics;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Receiving;

/// <summary>What we ask of a broker.</summary>
internal static class SessionOptions
{
    /// <summary>The subscription filters of the streams that vehicles send. No wildcard there: it would return what is sent to them as well.</summary>
    public static IEnumerable<string> Filters(BrokerOptions options)
    {
        IEnumerable<string> fleets = options.Fleets.IsDefaultOrEmpty ? ["+"] : options.Fleets;
        return from fleet in fleets from stream in UpStreamNames.All select $"{Topic.Root}{fleet}/+/{stream}";
    }

    /// <exception cref="IOException">The password's file cannot be read.</exception>
    public static MqttClientOptions Of(BrokerOptions options)
    {
        // A session outlives its connection only with both: no clean start, and an expiry that is not 0.
        var session = new MqttClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(options.ClientId)
            .WithCleanStart(false)
            .WithSessionExpiryInterval((uint)options.SessionExpiry.TotalSeconds)
            .WithReceiveMaximum(options.ReceiveMaximum)
            .WithMaximumPacketSize((uint)options.MostPacketBytes)
            .WithKeepAlivePeriod(options.KeepAlive)
            .WithTimeout(options.PingTimeout);
        if (options.User is { } user) session = session.WithCredentials(user, Password(options.PasswordFile));
        if (options.Tls is { } tls) session = session.WithTlsOptions(tls.Apply);
        var built = session.Build();
        // The client's default resets a connection that it closes, and the broker loses acknowledgements it has not read yet.
        if (built.ChannelOptions is MqttClientTcpOptions tcp) tcp.LingerState = new LingerOption(false, 0);
        return built;
    }

    public static MqttClientSubscribeOptions Subscriptions(BrokerOptions options)
    {
        var subscriptions = new MqttClientSubscribeOptionsBuilder();
        foreach (var filter in Filters(options))
            subscriptions = subscriptions.WithTopicFilter(topic => topic.WithTopic(filter).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithRetainHandling(MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly));
        return subscriptions.Build();
    }

    private static byte[] Password(string? file)
    {
        if (file is null) return [];
        using var reader = new StreamReader(file, Encoding.UTF8);
        return Encoding.UTF8.GetBytes(reader.ReadLine() ?? "");
    }
}

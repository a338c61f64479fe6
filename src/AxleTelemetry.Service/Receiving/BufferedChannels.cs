using MQTTnet;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Diagnostics.PacketInspection;
using MQTTnet.Formatter;
using MQTTnet.Implementations;

namespace AxleTelemetry.Service.Receiving;

/// <summary>Gives one client a <see cref="BufferedChannel"/>, and its owner the channel to acknowledge on.</summary>
internal sealed class BufferedChannels(int mostPacketBytes) : IMqttClientAdapterFactory
{
    /// <summary>The channel of the client; <c>null</c> before it connects.</summary>
    public BufferedChannel? Channel { get; private set; }

    public IMqttChannelAdapter CreateClientAdapter(MqttClientOptions options, MqttPacketInspector packetInspector, IMqttNetLogger logger)
    {
        Channel = new BufferedChannel(new MqttTcpChannel(options), mostPacketBytes);
        var formatter = new MqttPacketFormatterAdapter(options.ProtocolVersion, new MqttBufferWriter(options.WriterBufferSize, options.WriterBufferSizeMax));
        return new MqttChannelAdapter(Channel, formatter, logger) { AllowPacketFragmentation = options.AllowPacketFragmentation, PacketInspector = packetInspector };
    }
}

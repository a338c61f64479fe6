using MQTTnet.Exceptions;

namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// Follows the packets in a stream of bytes and refuses one that is too large before its bytes are read: the MQTT library
/// sets aside whatever a packet's header asks for, up to 256 MB.
/// </summary>
internal struct PacketGuard(int mostBytes)
{
    private const int LongestLength = 28;

    private int _body, _length, _shift;
    private bool _inLength;

    /// <summary>Sees the next bytes.</summary>
    /// <exception cref="MqttProtocolViolationException">A packet begins that is larger than may be.</exception>
    public void Pass(ReadOnlySpan<byte> bytes)
    {
        while (bytes.Length > 0)
        {
            if (_body > 0)
            {
                var skipped = Math.Min(_body, bytes.Length);
                _body -= skipped;
                bytes = bytes[skipped..];
                continue;
            }

            if (_inLength) Length(bytes[0]);
            else (_inLength, _length, _shift) = (true, 0, 0);
            bytes = bytes[1..];
        }
    }

    private void Length(byte part)
    {
        _length |= (part & 0x7F) << _shift;
        _shift += 7;
        if ((part & 0x80) != 0 && _shift < LongestLength) return;
        _inLength = false;
        _body = _length;
        var total = 1L + _shift / 7 + _length;
        if (total > mostBytes) throw new MqttProtocolViolationException(FormattableString.Invariant($"A packet of {total} bytes is larger than the {mostBytes} that may be."));
    }
}

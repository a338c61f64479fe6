using AxleTelemetry.Service.Receiving;
using CsCheck;
using MQTTnet.Exceptions;

namespace AxleTelemetry.Service.Tests.Receiving;

public class PacketGuardTests
{
    [Fact]
    public void Packets_up_to_the_size_pass_however_their_bytes_are_cut_and_a_larger_one_does_not() =>
        Gen.Select(Gen.Int[0, 300].List[1, 20], Gen.Int[1, 50]).Sample((sizes, cut) =>
        {
            byte[] bytes = [.. sizes.SelectMany(size => Wire.Packet(0x32, new byte[size]))];
            Assert.True(Passes(bytes, cut, sizes.Max(size => Wire.Packet(0, new byte[size]).Length)));
            Assert.False(Passes(bytes, cut, sizes.Max(size => Wire.Packet(0, new byte[size]).Length) - 1));
        });

    private static bool Passes(byte[] bytes, int cut, int most)
    {
        var guard = new PacketGuard(most);
        try
        {
            foreach (var part in bytes.Chunk(cut)) guard.Pass(part);
            return true;
        }
        catch (MqttProtocolViolationException)
        {
            return false;
        }
    }
}

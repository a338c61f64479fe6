using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Deployment.Tests.Servers;

/// <summary>Ports of this machine.</summary>
internal static class Ports
{
    /// <summary>One that nobody uses now.</summary>
    public static int Free()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }

    /// <summary>True where somebody listens.</summary>
    public static bool IsOpen(int port)
    {
        try
        {
            using var probe = new TcpClient("127.0.0.1", port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}

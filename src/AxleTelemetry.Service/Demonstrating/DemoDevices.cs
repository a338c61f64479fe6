using System.Net;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>The connections of all devices, one each.</summary>
internal sealed class DemoDevices(IPEndPoint broker, TimeProvider clock, CancellationToken stop) : IDisposable
{
    private readonly List<DeviceClient> _clients = [];

    /// <summary>Connects a vehicle's device; gives what sends a message of it.</summary>
    public Func<SentMessage, Task> Connect(string vehicle)
    {
        var client = new DeviceClient(vehicle, broker, clock);
        _clients.Add(client);
        return message => client.SendAsync(message, stop);
    }

    public void Dispose()
    {
        foreach (var client in _clients) client.Dispose();
    }
}

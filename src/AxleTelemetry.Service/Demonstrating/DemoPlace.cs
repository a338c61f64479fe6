using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>The directory of a demonstration: files of the fleet, settings, journal. One of its own is deleted in the end, one that was named is kept.</summary>
internal sealed class DemoPlace : IDisposable
{
    /// <summary>Where the broker inside listens, unless that is taken.</summary>
    public const int UsualPort = 1883;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    private DemoPlace(DirectoryInfo directory, bool isKept) => (Directory, IsKept) = (directory, isKept);

    /// <summary>Where.</summary>
    public DirectoryInfo Directory { get; }

    /// <summary>True where it stays.</summary>
    public bool IsKept { get; }

    /// <summary>Its settings.</summary>
    public string Settings => Path.Combine(Directory.FullName, FleetFiles.Settings);

    /// <summary>Makes it; <c>null</c> where the one named holds something already.</summary>
    /// <param name="named">A directory; <c>null</c> for one of its own.</param>
    public static DemoPlace? Create(string? named)
    {
        if (named is null) return new DemoPlace(System.IO.Directory.CreateTempSubdirectory("axletelemetry-demo-"), isKept: false);
        var directory = System.IO.Directory.CreateDirectory(named);
        return directory.EnumerateFileSystemInfos().Any() ? null : new DemoPlace(directory, isKept: true);
    }

    /// <summary>Writes the files of a fleet, and settings that listen where it is asked for.</summary>
    public void Write(SimulatedFleet fleet, ListenAddress pages, int broker)
    {
        fleet.WriteFiles(Directory.FullName);
        var settings = JsonNode.Parse(File.ReadAllText(Settings))!.AsObject();
        settings["http"] = new JsonObject { ["listen"] = pages.ToString() };
        settings["embedded_broker"] = new JsonObject { ["listen"] = new IPEndPoint(IPAddress.Loopback, broker).ToString() };
        if (DemoPermit.Of(fleet) is var (haulier, permits))
        {
            File.WriteAllText(Path.Combine(Directory.FullName, DemoPermit.File), permits.ToJsonString(Indented) + "\n");
            settings["fleets"]![haulier]!["permits"] = new JsonArray(DemoPermit.File);
        }

        File.WriteAllText(Settings, settings.ToJsonString(Indented) + "\n");
    }

    /// <summary>The usual port of a broker on this machine alone, or a free one where that is taken.</summary>
    public static int FreePort() => Bound(UsualPort) ?? Bound(0) ?? throw new IOException("No port of this machine is free.");

    /// <summary>True where something listens on a port of this machine.</summary>
    public static bool IsTaken(int port) => Bound(port) is null;

    public void Dispose()
    {
        if (!IsKept) Directory.Delete(recursive: true);
    }

    private static int? Bound(int port)
    {
        using var probe = new TcpListener(IPAddress.Loopback, port);
        try
        {
            probe.Start();
            return ((IPEndPoint)probe.LocalEndpoint).Port;
        }
        catch (SocketException)
        {
            return null;
        }
    }
}

using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

/// <summary>The example vehicles that are shipped.</summary>
internal static class Examples
{
    private static string Directory => Path.Combine(AppContext.BaseDirectory, "examples");

    public static IEnumerable<string> Names => System.IO.Directory.EnumerateFiles(Directory, "*.json").Select(Path.GetFileName).OfType<string>().Order();

    public static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(Directory, name));

    public static VehicleDescription Vehicle(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(Bytes(name))).Vehicle;
}

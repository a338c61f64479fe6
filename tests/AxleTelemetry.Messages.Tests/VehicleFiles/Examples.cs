using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

/// <summary>The example vehicles that are shipped.</summary>
internal static class Examples
{
    public static string Directory => Path.Combine(AppContext.BaseDirectory, "examples");

    public static IEnumerable<string> Names => System.IO.Directory.EnumerateFiles(Directory, "*.json").Select(Path.GetFileName).OfType<string>().Order();

    public static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(Directory, name));

    public static VehicleDescription Vehicle(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(Bytes(name))).Vehicle;

    /// <summary>The vehicle alone, or a trailer behind an example that pulls it.</summary>
    public static Combination Coupled(VehicleDescription vehicle)
    {
        VehicleDescription[] vehicles = vehicle.Kind switch
        {
            VehicleKind.SemiTrailer => [Vehicle("tractor-4x2.json"), vehicle],
            VehicleKind.CentreAxleTrailer or VehicleKind.DrawbarTrailer => [Vehicle("rigid-6x2-tag.json"), vehicle],
            _ => [vehicle],
        };
        return Assert.IsType<CouplingResult.Coupled>(Combination.Couple(vehicles)).Combination;
    }
}

using System.Globalization;
using System.Text.Json.Nodes;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>A permit of an authority that does not exist, for one vehicle of the demonstration: so what a permit allows and asks is there to be seen.</summary>
internal static class DemoPermit
{
    /// <summary>Its file.</summary>
    public const string File = "permits-demo.json";

    // Above the 26 t of Directive 96/53/EC for three axles, and faster than any of the demonstration drives.
    private const int GrossKilograms = 27_000, MostKmh = 90, DaysBefore = 30, Days = 365;

    private static readonly string[] Countries = ["AT", "DE", "DK", "HU", "IT", "SE", "SI"];

    /// <summary>Whose it is and what it says; <c>null</c> where the fleet has no vehicle for it.</summary>
    public static (string Haulier, JsonObject Content)? Of(SimulatedFleet fleet) => fleet.Vehicles.FirstOrDefault(v => v.Kind == UnitKind.TagRigid)?.Lead is { } vehicle
        ? (vehicle.Haulier.Id, new JsonObject { ["permits"] = new JsonArray(Of(vehicle, DateTimeOffset.FromUnixTimeMilliseconds(fleet.Plan.Start.UnixMilliseconds))) }) : null;

    private static JsonObject Of(FleetVehicle vehicle, DateTimeOffset day) => new()
    {
        ["id"] = "DEMO-1",
        ["authority"] = "an authority of the demonstration",
        ["vehicles"] = new JsonArray(vehicle.Id),
        ["countries"] = new JsonArray([.. Countries.Select(c => JsonValue.Create(c))]),
        ["from"] = Date(day.AddDays(-DaysBefore)),
        ["until"] = Date(day.AddDays(Days - DaysBefore)),
        ["most_speed_kmh"] = MostKmh,
        ["obligations"] = new JsonArray("Not between sunset and sunrise", "A copy aboard"),
        ["limits"] = new JsonArray(new JsonObject { ["gross"] = vehicle.Id, ["most_kg"] = GrossKilograms, ["clause"] = "1" }),
    };

    private static string Date(DateTimeOffset day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

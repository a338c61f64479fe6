using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Weighings;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>The files that a fleet's owners keep: vehicles, tickets, and the settings of a service over them.</summary>
public static class FleetFiles
{
    /// <summary>Name of the settings file.</summary>
    public const string Settings = "axletelemetry.json";

    // Below what a file of tickets may hold.
    private const int RowsOfFile = 4000;

    private static readonly string[] Languages = ["German", "Slovene", "Italian", "Polish", "English"];

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Weighings of a haulier's vehicles; none where the plan has no tickets.</summary>
    public static IEnumerable<WeighedRow> Tickets(this SimulatedFleet fleet, Haulier haulier)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        return fleet.Plan.Ticketed ? fleet.Vehicles.Where(v => v.Lead.Haulier == haulier).SelectMany(TicketDraw.Of) : [];
    }

    /// <summary>Writes the files into a directory, which is made where it is missing.</summary>
    public static void WriteFiles(this SimulatedFleet fleet, string directory)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        var fleets = new JsonObject();
        foreach (var haulier in Haulier.All.Where(h => fleet.Everything.Any(v => v.Haulier == h)))
            fleets[haulier.Id] = Owned(fleet, haulier, directory);
        var settings = new JsonObject
        {
            ["data_directory"] = "data",
            ["embedded_broker"] = new JsonObject { ["listen"] = "127.0.0.1:1883" },
            ["http"] = new JsonObject { ["listen"] = "127.0.0.1:8080" },
            ["fleets"] = fleets,
        };
        File.WriteAllText(Path.Combine(directory, Settings), settings.ToJsonString(Indented) + "\n");
    }

    /// <summary>Drivers' telephones and a depot's: numbers of the range 01632 960000 to 960999, which the United Kingdom's numbering plan keeps for drama.</summary>
    private static JsonObject Contacts(SimulatedFleet fleet, Haulier haulier)
    {
        var contacts = new JsonArray(new JsonObject { ["telephone"] = "+44 1632 960000", ["whose"] = "depot", ["language"] = "English" });
        foreach (var (unit, i) in fleet.Everything.Where(v => v.Haulier == haulier && v.Description.Kind.IsPowered()).Select((v, i) => (v, i)))
            contacts.Add(new JsonObject
            {
                ["telephone"] = string.Create(CultureInfo.InvariantCulture, $"+44 1632 960{1 + i % 999:000}"),
                ["whose"] = "driver",
                ["language"] = Languages[i % Languages.Length],
                ["vehicles"] = new JsonArray(unit.Id),
            });
        return new JsonObject { ["contacts"] = contacts };
    }

    private static JsonObject Owned(SimulatedFleet fleet, Haulier haulier, string directory)
    {
        var vehicles = Directory.CreateDirectory(Path.Combine(directory, haulier.Id)).FullName;
        foreach (var vehicle in fleet.Everything.Where(v => v.Haulier == haulier)) File.WriteAllText(Path.Combine(vehicles, vehicle.Id + ".json"), vehicle.File);
        var tickets = new JsonArray();
        foreach (var (rows, number) in fleet.Tickets(haulier).Chunk(RowsOfFile).Select((rows, i) => (rows, i + 1)))
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"tickets-{haulier.Id}-{number}.csv");
            File.WriteAllText(Path.Combine(directory, name), TicketsText.Of(rows));
            tickets.Add(name);
        }

        var contacts = $"contacts-{haulier.Id}.json";
        File.WriteAllText(Path.Combine(directory, contacts), Contacts(fleet, haulier).ToJsonString(Indented) + "\n");
        var owned = new JsonObject { ["vehicles"] = haulier.Id, ["trip"] = "international", ["contacts"] = contacts };
        if (tickets.Count > 0) owned["tickets"] = tickets;
        return owned;
    }
}

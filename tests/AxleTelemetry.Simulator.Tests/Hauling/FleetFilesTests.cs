using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Messages.Contacts;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Weighings;

namespace AxleTelemetry.Simulator.Tests.Hauling;

public sealed class FleetFilesTests : IDisposable
{
    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("fleet-");

    public void Dispose() => _directory.Delete(recursive: true);

    [Fact]
    public void Every_vehicle_has_a_file_that_is_accepted_and_the_settings_name_them()
    {
        var fleet = SimulatedFleet.Draw(21, new FleetPlan { Units = FleetPlan.Each(3), OneSidedPart = 0.5 });
        fleet.WriteFiles(_directory.FullName);
        var files = _directory.GetFiles("*.json", SearchOption.AllDirectories).Where(f => f.Name != FleetFiles.Settings && !f.Name.StartsWith("contacts-", StringComparison.Ordinal)).ToList();
        Assert.Equal(fleet.Everything.Select(v => v.Id + ".json").Order(), files.Select(f => f.Name).Order());
        Assert.All(files, f => Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(f.FullName))));
        var settings = File.ReadAllText(Path.Combine(_directory.FullName, FleetFiles.Settings));
        Assert.All(Haulier.All, h => Assert.Contains($"\"{h.Id}\"", settings, StringComparison.Ordinal));
        Assert.All(_directory.GetFiles("contacts-*.json"), f => Assert.IsType<ContactsResult.Accepted>(ContactsFile.Parse(File.ReadAllBytes(f.FullName))));
        Assert.Equal(Haulier.All.Length, _directory.GetFiles("contacts-*.json").Length);
        Assert.Contains(fleet.Everything, v => v.Description.Sensors.Any(s => s.Side != Domain.Vehicles.CircuitSide.Both));
    }

    [Fact]
    public void Every_circuit_has_tickets_that_lead_near_its_truth()
    {
        var fleet = SimulatedFleet.Draw(22, new FleetPlan { Units = FleetPlan.Each(3) });
        var tickets = Haulier.All.SelectMany(h => Assert.IsType<TicketsRead>(TicketsCsv.Parse(TicketsText.Of(fleet.Tickets(h)))).Tickets).ToLookup(t => t.Circuit, t => t.Ticket);
        foreach (var vehicle in fleet.Everything)
            for (var i = 0; i < vehicle.Sensors.Length; i++)
            {
                var sensor = vehicle.Description.Sensors[i];
                var mine = tickets[new CircuitId(vehicle.Id, sensor.Key)].ToList();
                Assert.True(mine.Count >= 4, $"{vehicle.Id} {sensor.Key}: {mine.Count}");
                var unsprung = vehicle.Description.Axles[sensor.Axles[0]].Unsprung.Kilograms;
                foreach (var ticket in mine)
                {
                    var truth = vehicle.Sensors[i].OffsetKilograms + vehicle.Sensors[i].KilogramsPerKilopascal * ticket.Pressure.Kilopascals + unsprung;
                    Assert.InRange(ticket.AxleLoad.Kilograms, truth - 700, truth + 700);
                }
            }
    }
}

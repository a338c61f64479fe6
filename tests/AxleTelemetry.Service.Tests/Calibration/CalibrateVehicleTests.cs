using System.Text.Json;
using System.Xml.Linq;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Calibration;

/// <summary>Calibrating with a vehicle file, by the shipped tickets.</summary>
public sealed class CalibrateVehicleTests : IDisposable
{
    private static readonly string[] Rigid = ["calibrate", "--vehicle", ExampleFiles.Rigid];
    private static readonly string[] Ticketed = [.. Rigid, "--tickets", ExampleFiles.Tickets];

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("calibrate");

    public void Dispose() => _folder.Delete(recursive: true);

    private string Picture => Path.Combine(_folder.FullName, "fit.svg");

    private static string[] Heads(string output) => [.. output.Split('\n').Where(line => line.StartsWith("RT-01/", StringComparison.Ordinal))];

    [Fact]
    public void Every_circuit_with_tickets_has_its_sheet_and_the_bad_ticket_is_found()
    {
        var run = Invocation.Of(Ticketed);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(["RT-01/drive, 6 tickets, version 2026-02-24/6", "RT-01/tag, 6 tickets, version 2026-02-24/6"], Heads(run.Output));
        var said = Assert.Single(run.Output.Split('\n'), line => line.StartsWith("Ticket W", StringComparison.Ordinal));
        Assert.StartsWith("Ticket W4 (2026-02-12, 430.3 kPa, 8,460 kg) is ", said, StringComparison.Ordinal);
        Assert.Contains("Noted: handbrake on, driver at the counter.", said, StringComparison.Ordinal);
        Assert.EndsWith("The fit without it: --circuit RT-01/drive --without W4.", said, StringComparison.Ordinal);
        Assert.Equal(1, Invocation.Of([.. Ticketed, "--strict"]).ExitCode);
    }

    [Fact]
    public void What_it_says_to_do_ends_the_suspicion()
    {
        var run = Invocation.Of([.. Ticketed, "--circuit", "RT-01/drive", "--without", "W4", "--strict"]);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(["RT-01/drive, 5 tickets, version 2026-02-24/5"], Heads(run.Output));
        Assert.Contains("Left out: W4.", run.Output);
    }

    [Fact]
    public void The_tables_fit_a_hundred_columns() => Assert.All(
        Invocation.Of(Ticketed).Output.Split('\n').Where(line => line.StartsWith(' ') || line.StartsWith('\u2500')),
        line => Assert.InRange(line.TrimEnd('\r').Length, 0, 100));

    [Theory]
    [InlineData("tag")]
    [InlineData("RT-01/tag")]
    public void A_circuit_is_picked_with_or_without_its_vehicle(string circuit) =>
        Assert.Equal(["RT-01/tag, 6 tickets, version 2026-02-24/6"], Heads(Invocation.Of([.. Ticketed, "--circuit", circuit]).Output));

    [Fact]
    public void The_vehicle_file_says_what_the_options_would()
    {
        string[] stated = ["calibrate", "--tickets", ExampleFiles.Tickets, "--circuit", "tag", "--area-cm2", "430", "--bellows", "2", "--lever", "1.15", "--unsprung-kg", "750", "--typical-kg", "7500"];
        Assert.Equal(Invocation.Of(stated).Output, Invocation.Of([.. Ticketed, "--circuit", "tag"]).Output);
    }

    [Fact]
    public void A_command_that_loads_the_same_tickets_has_the_same_fit()
    {
        using var sheets = JsonDocument.Parse(Invocation.Of([.. Ticketed, "--json"]).Output);
        var loaded = Assert.IsType<InputResult.Loaded>(InputReader.Load(new() { VehicleFiles = [ExampleFiles.Rigid], Tickets = ExampleFiles.Tickets })).Input;
        var fits = sheets.RootElement.EnumerateArray().Select(sheet => sheet.GetProperty("fit")).ToList();
        Assert.Equal(loaded.Fits.Select(f => f.Version), fits.Select(f => f.GetProperty("version").GetString()));
        Assert.Equal(loaded.Fits.Select(f => f.KilogramsPerKilopascal), fits.Select(f => f.GetProperty("gain_kg_per_kpa").GetDouble()));
    }

    [Fact]
    public void Each_circuit_has_its_picture_and_a_picked_one_keeps_the_name()
    {
        var run = Invocation.Of([.. Ticketed, "--svg", Picture]);
        Assert.Equal(["fit-drive.svg", "fit-tag.svg"], _folder.EnumerateFiles().Select(file => file.Name).Order());
        Assert.Contains($"Picture: {Path.Combine(_folder.FullName, "fit-tag.svg")}", run.Output);
        var texts = XDocument.Load(Path.Combine(_folder.FullName, "fit-drive.svg")).Descendants().Where(e => e.Name.LocalName == "text").Select(e => e.Value).ToList();
        Assert.Contains("RT-01/drive: axle load from bellows pressure", texts);
        Assert.Contains("W4, suspicious", texts);
        Assert.Contains(texts, text => text.StartsWith("Axle load = 1250 kg unsprung - 21.9 kg + ", StringComparison.Ordinal));
        Invocation.Of([.. Ticketed, "--circuit", "tag", "--svg", Picture]);
        Assert.True(File.Exists(Picture));
    }

    [Fact]
    public void Json_is_one_object_for_one_circuit_and_a_list_for_a_vehicle()
    {
        using var all = JsonDocument.Parse(Invocation.Of([.. Ticketed, "--json"]).Output);
        Assert.Equal(["drive", "tag"], all.RootElement.EnumerateArray().Select(sheet => sheet.GetProperty("sensor").GetString()));
        using var one = JsonDocument.Parse(Invocation.Of([.. Ticketed, "--json", "--circuit", "tag"]).Output);
        Assert.Equal("tag", one.RootElement.GetProperty("sensor").GetString());
    }

    [Fact]
    public void Without_tickets_each_circuit_has_its_handbook()
    {
        var run = Invocation.Of(Rigid);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(["RT-01/drive, handbook alone, no ticket", "RT-01/tag, handbook alone, no ticket"], Heads(run.Output));
    }

    [Fact]
    public void A_circuit_without_tickets_and_tickets_of_other_vehicles_are_said_beside_the_answer()
    {
        var tickets = Path.Combine(_folder.FullName, "tickets.csv");
        File.WriteAllLines(tickets, [.. File.ReadLines(ExampleFiles.Tickets).Where(line => !line.Contains(",drive,", StringComparison.Ordinal)), "W9,2026-02-24T16:20:00Z,TR-04,drive,345,6360,axle,,"]);
        var run = Invocation.Of([.. Rigid, "--tickets", tickets]);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(["RT-01/tag, 6 tickets, version 2026-02-24/6"], Heads(run.Output));
        Assert.Contains($"warning: {tickets}: found no ticket of RT-01/drive. It keeps its handbook and has no sheet here.", run.Output);
        Assert.Contains($"warning: {tickets}: vehicle: found TR-04. Not RT-01: their tickets are passed over.", run.Output);
    }

    [Fact]
    public void What_stands_in_the_vehicle_file_is_not_stated_twice()
    {
        var run = Invocation.Of([.. Ticketed, "--area-cm2", "430", "--lever", "1", "--typical-kg", "7500"]);
        Assert.Equal(2, run.ExitCode);
        Assert.Equal(["--area-cm2", "--lever", "--typical-kg"], run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(' ')[0]));
        Assert.Contains($"--lever and --vehicle both state it: --lever already stands in {ExampleFiles.Rigid}. Leave one of them out.", run.Output);
    }

    [Fact]
    public void A_circuit_that_is_not_there_is_said_with_those_that_are()
    {
        Refused("--circuit: found 'steer'. RT-01 has: --circuit RT-01/drive, --circuit RT-01/tag.", [.. Ticketed, "--circuit", "steer"]);
        Refused("--circuit: found 'TR-04/drive'. RT-01 has: ", [.. Ticketed, "--circuit", "TR-04/drive"]);
        Refused($"{ExampleFiles.Tickets}: found no ticket of TR-04/drive. There are tickets of RT-01/drive, RT-01/tag.", ["calibrate", "--vehicle", ExampleFiles.Tractor, "--tickets", ExampleFiles.Tickets]);
        Refused("SB-07: The vehicle has no pressure sensor: there is nothing to calibrate.", ["calibrate", "--vehicle", ExampleFiles.Of("semi-bare.json")]);
        Refused("--without: found 'W7'. The weighings are W1, W2, W3, W4, W5, W6.", [.. Ticketed, "--without", "W7"]);
        Refused("--without: found 'W1'. There are no tickets to leave it out of.", [.. Rigid, "--without", "W1"]);
    }

    [Fact]
    public void A_sensor_that_the_vehicle_does_not_have_and_a_broken_file_are_said()
    {
        var tickets = Path.Combine(_folder.FullName, "tickets.csv");
        File.WriteAllText(tickets, File.ReadAllText(ExampleFiles.Tickets).Replace(",tag,", ",tga,", StringComparison.Ordinal));
        Refused($"{tickets}: sensor: found 'tga' of RT-01. Its sensors are drive, tag.", [.. Rigid, "--tickets", tickets]);
        var vehicle = Path.Combine(_folder.FullName, "vehicle.json");
        File.WriteAllText(vehicle, "{ \"axles\": 3 }");
        Refused($"{vehicle}:1:12: $.axles: found ", ["calibrate", "--vehicle", vehicle, "--tickets", "none.csv"]);
        Refused("none.csv: There is no such file.", ["calibrate", "--vehicle", vehicle, "--tickets", "none.csv"]);
    }

    private static void Refused(string said, string[] arguments)
    {
        var run = Invocation.Of(arguments);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(run.Output.Split('\n'), line => line.StartsWith(said, StringComparison.Ordinal));
    }
}

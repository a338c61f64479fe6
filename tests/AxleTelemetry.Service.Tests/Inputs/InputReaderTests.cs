using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Tests.Inputs;

public sealed class InputReaderTests : IDisposable
{
    private const string Header = "weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note\n";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("inputs");

    public void Dispose() => _folder.Delete(recursive: true);

    private string Save(string name, string text)
    {
        var path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }

    private static VehicleInput Loaded(InputRequest request) =>
        Assert.IsType<InputResult.Loaded>(InputReader.Load(request)).Input;

    private static string[] Errors(InputRequest request) =>
        [.. Assert.IsType<InputResult.Refused>(InputReader.Load(request)).Errors.Select(e => e.ToString())];

    private static InputRequest Coupled => new() { VehicleFiles = [ExampleFiles.Tractor, ExampleFiles.SemiTrailer] };

    [Fact]
    public void A_combination_without_tickets_keeps_its_handbook_and_the_shipped_limits()
    {
        var input = Loaded(Coupled);
        Assert.Equal(["TR-04", "ST-06"], input.Combination.Vehicles.Select(v => v.Id));
        Assert.Equal(["handbook", "handbook"], input.Fits.Select(f => f.Version));
        Assert.Equal("Council Directive 96/53/EC", input.Limits.Title);
        Assert.Contains(input.Setup.Table.Keys, k => k.Kind == MarginKind.CombinationGross);
        Assert.Empty(input.Warnings);
    }

    [Fact]
    public void Tickets_calibrate_their_circuit_and_no_other()
    {
        var tickets = Save("tickets.csv", Header + "W1,2026-03-02T06:00:00Z,TR-04,drive,520,9000,axle,,\nW2,2026-03-03T06:00:00Z,TR-04,drive,300,5800,axle,,\nW3,2026-03-03T06:00:00Z,XX-99,drive,300,5800,axle,,\n");
        var input = Loaded(Coupled with { Tickets = tickets });
        Assert.Equal("2026-03-03/2", input.Fits[0].Version);
        Assert.Equal("handbook", input.Fits[1].Version);
        Assert.True(input.Fits[0].GainVariance < input.Combination.Sensors[0].Sensor.Handbook.GainVariance);
        Assert.Contains("XX-99", Assert.Single(input.Warnings).ToString(), StringComparison.Ordinal);

        var aged = Loaded(Coupled with { Tickets = tickets, AsOf = new Moment(DateTimeOffset.Parse("2029-03-03T00:00:00Z", System.Globalization.CultureInfo.InvariantCulture).ToUnixTimeMilliseconds()) });
        Assert.True(aged.Fits[0].GainVariance > input.Fits[0].GainVariance);
    }

    [Fact]
    public void Every_error_of_every_file_comes_at_once_with_its_place()
    {
        var vehicle = Save("bad.json", File.ReadAllText(ExampleFiles.Tractor).Replace("\"rating_kg\": 12000", "\"rating_kg\": \"twelve\"", StringComparison.Ordinal));
        var tickets = Save("tickets.csv", Header + "W1,yesterday,TR-04,drive,520,9000,axle,,\n");
        var limits = Save("limits.json", "{}");
        var errors = Errors(new InputRequest { VehicleFiles = [vehicle, "missing.json"], Tickets = tickets, Limits = limits });
        Assert.Contains(errors, e => e.StartsWith($"{vehicle}:9:", StringComparison.Ordinal) && e.Contains("$.axles[1].rating_kg", StringComparison.Ordinal));
        Assert.Contains("missing.json: There is no such file.", errors);
        Assert.Contains(errors, e => e.StartsWith($"{tickets}:2: time: found 'yesterday'", StringComparison.Ordinal));
        Assert.Contains(errors, e => e.StartsWith(limits, StringComparison.Ordinal));
    }

    [Fact]
    public void What_cannot_be_coupled_or_is_named_twice_is_said()
    {
        Assert.Contains("powered unit first", Assert.Single(Errors(new InputRequest { VehicleFiles = [ExampleFiles.SemiTrailer] })), StringComparison.Ordinal);
        Assert.Contains(Errors(new InputRequest { VehicleFiles = [ExampleFiles.Tractor, ExampleFiles.SemiTrailer, ExampleFiles.SemiTrailer] }),
            e => e.Contains("'ST-06' more than once", StringComparison.Ordinal));
    }

    [Fact]
    public void A_ticket_of_a_sensor_that_the_vehicle_does_not_have_is_an_error()
    {
        var tickets = Save("tickets.csv", Header + "W1,2026-03-02T06:00:00Z,TR-04,driev,520,9000,axle,,\n");
        Assert.EndsWith("found 'driev' of TR-04. Its sensors are drive.", Assert.Single(Errors(Coupled with { Tickets = tickets })), StringComparison.Ordinal);
    }
}

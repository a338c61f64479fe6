using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Configuring;

public sealed class ServiceReadingTests : IDisposable
{
    private readonly ServiceFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_shipped_example_is_good_from_any_directory()
    {
        var loaded = Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(ExampleFiles.Of("service/axletelemetry.json"))).Configuration;
        Assert.Empty(loaded.Warnings);
        Assert.NotNull(loaded.Fleets.Find("demo")!.Roster.Find("RT-01"));
        Assert.Equal(ExampleFiles.Of("service/data"), loaded.DataDirectory);
    }

    [Fact]
    public void Every_error_of_every_file_comes_at_once_with_its_place()
    {
        _folder.Settings("\"http\": { \"api_token_file\": \"gone-token\" }", """
            "north": { "vehicles": "north", "tickets": ["tickets.csv", "gone.csv"], "limits": "limits.json" }, "south": { "vehicles": "gone" }, "west": { "vehicles": "empty" }
            """);
        Directory.CreateDirectory(_folder.PathOf("empty"));
        _folder.Replace("north/tractor.json", "\"rating_kg\": 12000", "\"rating_kg\": 115000");
        _folder.Write("tickets.csv", ServiceFolder.Header + "W1,yesterday,TR-04,drive,520,9000,axle,,\n");
        _folder.Write("limits.json", "");
        _folder.Write("data", "");
        var errors = _folder.Errors();
        void Told(string start, string part) => Assert.Contains(errors, e => e.StartsWith(start, StringComparison.Ordinal) && e.Contains(part, StringComparison.Ordinal));
        Told(_folder.SettingsFile + ": $.data_directory", "This is a file");
        Told(_folder.SettingsFile + ": $.http.api_token_file", "no file of the name");
        Told(_folder.SettingsFile + ": $.fleets.north.tickets[1]", "'gone.csv'. There is no such file");
        Told(_folder.SettingsFile + ": $.fleets.south.vehicles", "'gone'. There is no such directory");
        Told(_folder.SettingsFile + ": $.fleets.west.vehicles", "holds no .json");
        Told(_folder.PathOf("north/tractor.json") + ":9:", "$.axles[1].rating_kg: found 115000");
        Told(_folder.PathOf("tickets.csv") + ":2", "found 'yesterday'");
        Told(_folder.PathOf("limits.json"), "JSON");
        Assert.Equal(8, errors.Length);
        Assert.DoesNotContain(errors, e => e.Contains("gone-token", StringComparison.Ordinal));
    }

    [Fact]
    public void A_vehicle_id_stands_once_in_a_fleet_and_is_odd_in_two()
    {
        File.Copy(ExampleFiles.Tractor, _folder.PathOf("north/twin.json"));
        Assert.Contains("'TR-04', the id of north/tractor.json too", Assert.Single(_folder.Errors()), StringComparison.Ordinal);
        File.Delete(_folder.PathOf("north/twin.json"));
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\" }, \"south\": { \"vehicles\": \"north\" }");
        Assert.Contains(_folder.Loaded().Warnings, w => w.Found == "vehicle 'TR-04' in north and south");
    }

    [Fact]
    public void A_weighing_in_two_files_would_count_twice()
    {
        _folder.Write("more.csv", ServiceFolder.Tickets);
        _folder.Settings("", "\"north\": { \"vehicles\": \"north\", \"tickets\": [\"tickets.csv\", \"more.csv\"] }");
        Assert.Contains(_folder.Errors(), e => e.Contains("'W1' of TR-04, which stands in more.csv too", StringComparison.Ordinal));
    }

    [Fact]
    public void Access_rules_that_lead_nowhere_are_odd()
    {
        _folder.Write("devices", "# one a line\nTR-04:correct horse\n");
        _folder.Settings("\"embedded_broker\": { \"credentials_file\": \"devices\", \"access\": [{ \"fleet\": \"north\", \"user\": \"gw\", \"vehicle\": \"TR-05\" }] }");
        var loaded = _folder.Loaded();
        Assert.Equal(["$.embedded_broker.access[0].user", "$.embedded_broker.access[0].vehicle"], loaded.Warnings.Select(w => w.Path));
        Assert.True(loaded.Devices!.Accepts("TR-04", "correct horse"u8));
        Assert.False(loaded.Devices.Accepts("TR-04", "correct horsf"u8));
        Assert.False(loaded.Devices.Accepts("TR-05", ""u8));
    }

    [Fact]
    public void Check_knows_settings_and_tells_what_is_wrong_in_the_files_they_name()
    {
        var good = Invocation.Of("check", _folder.SettingsFile);
        Assert.Equal(0, good.ExitCode);
        Assert.Contains($"axletelemetry.json: settings north (2), version {_folder.Loaded().Fleets.Version}, good", good.Output);
        _folder.Settings("", "\"north\": { \"vehicles\": \"gone\" }");
        var bad = Invocation.Of("check", _folder.SettingsFile);
        Assert.Equal(2, bad.ExitCode);
        Assert.Contains("  error at $.fleets.north.vehicles", bad.Output);
        Assert.Contains("    found: 'gone'", bad.Output);
        _folder.Settings("\"http\": { \"listen\": \"0.0.0.0:8080\" }");
        Assert.Contains("  error at $.http.public_address (line 2, column 9)", Invocation.Of("check", _folder.SettingsFile).Output);
    }
}

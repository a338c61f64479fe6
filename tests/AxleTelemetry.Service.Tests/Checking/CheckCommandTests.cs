using System.Text.Json;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Service.Tests.Checking;

public sealed class CheckCommandTests : IDisposable
{
    private readonly string _directory = Directory.CreateTempSubdirectory("check-").FullName;

    [Fact]
    public void All_examples_are_good()
    {
        var files = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "examples"));
        var run = Invocation.Of(["check", .. files]);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains($"{files.Length} files: {files.Length} good, 0 with errors. 0 errors, 0 warnings.", run.Output);
        Assert.Contains("tickets-rt-01.csv: tickets RT-01/drive (6), RT-01/tag (6), good", run.Output);
        Assert.Matches(@"journey\.ndjson: recording [0-9]+ messages of RT-01, [0-9]+ samples, good", run.Output);
    }

    [Fact]
    public void Each_error_is_told_with_place_value_and_what_would_be_right()
    {
        var run = Invocation.Of("check", Tractor(("\"rating_kg\": 12000", "\"rating_kg\": 115000"), ("\"x_m\": 0,", "\"x_m\": 1,")));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("tractor.json: vehicle, 2 errors", run.Output);
        Assert.Contains("  error at $.axles[1].rating_kg (line 9, column 86)", run.Output);
        Assert.Contains("    found: 115000", run.Output);
        Assert.Contains("    Right is a number from 1000 to 25000.", run.Output);
        Assert.Contains("  error at $.axles[0].x_m", run.Output);
        Assert.Contains("1 file: 0 good, 1 with errors. 2 errors, 0 warnings.", run.Output);
    }

    [Fact]
    public void A_warning_alone_is_no_error()
    {
        var run = Invocation.Of("check", Tractor(("\"capacity_kg\": 12600", "\"capacity_kg\": 10000")));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("tractor.json: vehicle TR-04, good, 1 warning", run.Output);
        Assert.Contains("  warning at $.axles[1].tyres.capacity_kg", run.Output);
    }

    [Fact]
    public void Programs_get_the_same_as_json()
    {
        var run = Invocation.Of("check", "--json", Tractor(("\"rating_kg\": 12000", "\"rating_kg\": 115000")), Write("gone.txt", "nothing known"));
        Assert.Equal(2, run.ExitCode);
        using var document = JsonDocument.Parse(run.Output);
        Assert.Equal(2, document.RootElement.GetProperty("errors").GetInt32());
        Assert.Equal(0, document.RootElement.GetProperty("warnings").GetInt32());
        var file = document.RootElement.GetProperty("files")[0];
        Assert.Equal("vehicle", file.GetProperty("kind").GetString());
        var problem = Assert.Single(file.GetProperty("problems").EnumerateArray());
        Assert.Equal(
            ("error", "OutOfRange", "$.axles[1].rating_kg", 9, "115000"),
            (problem.GetProperty("severity").GetString(), problem.GetProperty("kind").GetString(), problem.GetProperty("path").GetString(),
                problem.GetProperty("line").GetInt32(), problem.GetProperty("found").GetString()));
    }

    [Fact]
    public void A_vehicle_file_that_is_broken_in_the_middle_is_still_known_as_one()
    {
        var run = Invocation.Of("check", Write("broken.json", "{ \"axles\": [], \"kerb\": "));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("broken.json: vehicle, 1 error", run.Output);
    }

    [Fact]
    public void Assumptions_and_tyre_events_are_known_too()
    {
        var assumptions = Write("assumptions.json", """{ "values": { "fuel_price": { "value": 1.62 } } }""");
        var dear = Write("dear.json", """{ "values": { "fuel_price": { "value": "dear" } } }""");
        var tyres = Write("tyres.csv", "date,event,tyre,vehicle,axle,position\n2026-03-02,fitted,T-1,RT-01,drive,left-outer\n");
        var single = Write("single.csv", "date,event,tyre,vehicle,axle,position\n2026-03-02,fitted,T-1,RT-01,drive,left\n");
        var run = Invocation.Of("check", assumptions, dear, tyres, single, ExampleFiles.Rigid);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("assumptions.json: assumptions EUR, good", run.Output);
        Assert.Contains("  error at $.values.fuel_price.value (line 1, column ", run.Output);
        Assert.Contains("tyres.csv: tyre events of 1, good", run.Output);
        Assert.Contains("  error at position (line 2)", run.Output);
    }

    [Fact]
    public void Limits_and_tickets_are_known_too()
    {
        var limits = Path.Combine(_directory, "limits.json");
        File.WriteAllBytes(limits, LimitSetFile.ShippedText(LimitSetFile.Directive));
        var tickets = Write("tickets.csv", "weighing,time,vehicle,sensor,kpa,axle_kg,method\nw1,2026-01-05T08:00:00Z,RT-01,drive,120,3200,axle\n");
        var wrong = Write("wrong.csv", "weighing,time,vehicle,sensor,kpa,axle_kg,method\nw1,2026-01-05T08:00:00Z,RT-01,drive,120,light,axle\n");
        var run = Invocation.Of("check", limits, tickets, wrong);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains($"limits.json: limits {LimitSetFile.Directive}, good", run.Output);
        Assert.Contains("tickets.csv: tickets RT-01/drive (1), good", run.Output);
        Assert.Contains("  error at axle_kg (line 2)", run.Output);
    }

    [Fact]
    public void Tickets_are_held_against_the_vehicles_given_with_them()
    {
        var tickets = Write("tickets.csv", "weighing,time,vehicle,sensor,kpa,axle_kg,method\nw1,2026-01-05T08:00:00Z,RT-01,driev,120,3200,axle\n");
        Assert.Equal(0, Invocation.Of("check", tickets).ExitCode);
        var run = Invocation.Of("check", tickets, ExampleFiles.Rigid);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("    found: 'driev' of RT-01", run.Output);
        Assert.Contains("    Its sensors are drive, tag.", run.Output);
    }

    [Fact]
    public void Two_vehicles_of_one_id_are_odd_but_one_alone_is_not()
    {
        var run = Invocation.Of("check", ExampleFiles.Rigid, Write("twin.json", File.ReadAllText(ExampleFiles.Rigid)), ExampleFiles.Tractor);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("twin.json: vehicle RT-01, good, 1 warning", run.Output);
        Assert.Contains($"    found: 'RT-01', the id of {ExampleFiles.Rigid} too", run.Output);
        Assert.Contains("3 files: 3 good, 0 with errors. 0 errors, 1 warning.", run.Output);
    }

    [Fact]
    public void A_file_that_is_missing_or_of_no_known_kind_is_an_error_of_its_own()
    {
        var run = Invocation.Of("check", Path.Combine(_directory, "absent.json"), Write("letter.txt", "Dear all"), Write("empty.json", ""),
            Write("half.json", "{ \"id\": \"\\ud800\", \"rules\": [] }"));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("found: a file that cannot be read", run.Output);
        Assert.Contains("Known are vehicle (", run.Output);
        Assert.Contains("4 files: 0 good, 4 with errors. 4 errors, 0 warnings.", run.Output);
    }

    [Fact]
    public void Help_teaches_with_an_example()
    {
        var run = Invocation.Of("check", "--help");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("axletelemetry check deploy/examples/rigid-6x2-tag.json", run.Output);
    }

    public void Dispose() => Directory.Delete(_directory, recursive: true);

    private string Tractor(params (string Old, string New)[] changes)
    {
        var text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "examples", "tractor-4x2.json"));
        foreach (var (old, now) in changes)
        {
            Assert.Contains(old, text);
            text = text.Replace(old, now, StringComparison.Ordinal);
        }

        return Write("tractor.json", text);
    }

    private string Write(string name, string text)
    {
        var path = Path.Combine(_directory, name);
        File.WriteAllText(path, text);
        return path;
    }

    [Fact]
    public void A_directory_an_empty_file_and_another_encoding_are_called_what_they_are()
    {
        var folder = Directory.CreateTempSubdirectory("check");
        try
        {
            Assert.Contains("This is a directory.", Invocation.Of("check", folder.FullName).Output, StringComparison.Ordinal);
            foreach (var (bytes, words) in ((byte[], string)[])[([], "an empty file"), ([0xFF, 0xFE, 0x7B, 0x00], "UTF-16"), ([0x7B, 0x00, 0x01], "bytes that are no text")])
            {
                var file = Path.Combine(folder.FullName, "some.json");
                File.WriteAllBytes(file, bytes);
                Assert.Contains(words, Invocation.Of("check", file).Output, StringComparison.Ordinal);
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}

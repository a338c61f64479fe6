using System.CommandLine;
using System.Text.Json;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Tests.Checking;

namespace AxleTelemetry.Service.Tests.Loads;

public sealed class LoadsCommandTests
{
    private static readonly string Bare = ExampleFiles.Of("semi-bare.json");

    private static (int Code, string Output, string Error) Run(params string[] arguments)
    {
        using StringWriter output = new(), error = new();
        var code = Root.Run(["loads", .. arguments], new InvocationConfiguration { Output = output, Error = error });
        return (code, output.ToString().ReplaceLineEndings("\n"), error.ToString().ReplaceLineEndings("\n"));
    }

    /// <summary>Every example vehicle with what it takes to be on the road.</summary>
    public static TheoryData<string> Examples => new(Directory.EnumerateFiles(Path.GetDirectoryName(ExampleFiles.Rigid)!, "*.json").Select(f => Path.GetFileName(f)!).Order());

    private static string[] Coupled(string name) => name switch
    {
        _ when name.StartsWith("semi-", StringComparison.Ordinal) => [ExampleFiles.Tractor, ExampleFiles.Of(name)],
        _ when name.StartsWith("trailer-", StringComparison.Ordinal) => [ExampleFiles.Rigid, ExampleFiles.Of(name)],
        _ when name.StartsWith("tractor-", StringComparison.Ordinal) => [ExampleFiles.Of(name), ExampleFiles.SemiTrailer],
        _ => [ExampleFiles.Of(name)],
    };

    private static string[] Raised(string name) => name switch
    {
        _ when name.Contains("pusher", StringComparison.Ordinal) => ["--raised", "pusher"],
        _ when name.StartsWith("rigid-", StringComparison.Ordinal) || name.StartsWith("trailer-", StringComparison.Ordinal) => ["--raised", "tag"],
        _ => [],
    };

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_vehicle_gives_its_loads_empty_and_loaded(string name)
    {
        var files = Coupled(name);
        var carrying = name.StartsWith("trailer-", StringComparison.Ordinal) ? "RT-01=" : "";
        // Empty with every axle down the driving share falls short, or the regulated axle would lift the body.
        var (code, output, error) = Run([.. files, "--payload", $"{carrying}0", .. Raised(name)]);
        Assert.Equal("", error);
        Assert.Equal(0, code);
        Assert.Contains("Nothing is over as it is.", output, StringComparison.Ordinal);
        Assert.Contains("not a certified weighing", output, StringComparison.Ordinal);

        (code, output, _) = Run([.. files, "--payload", $"{carrying}60000"]);
        Assert.Equal(1, code);
        Assert.Contains("surely over", output, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_vehicle_gives_json_that_says_the_same(string name)
    {
        var (code, output, _) = Run([.. Coupled(name), "--payload", name.StartsWith("trailer-", StringComparison.Ordinal) ? "RT-01=9000" : "9000", "--json"]);
        using var json = JsonDocument.Parse(output);
        var root = json.RootElement;
        Assert.Equal(code == 1, root.GetProperty("over").GetBoolean());
        foreach (var configuration in root.GetProperty("configurations").EnumerateArray())
        {
            if (!configuration.GetProperty("possible").GetBoolean()) continue;
            var loads = configuration.GetProperty("loads").EnumerateArray().ToArray();
            var axles = loads.Where(l => l.GetProperty("axle").ValueKind == JsonValueKind.String).Sum(l => l.GetProperty("load_kg").GetDouble());
            var gross = loads.First(l => l.GetProperty("thing").GetString() is "gross" or "gross combination mass").GetProperty("load_kg").GetDouble();
            Assert.Equal(gross, axles, 1.0);
        }
    }

    [Fact]
    public void A_rigid_with_its_tag_raised_reads_like_this()
    {
        var (code, output, error) = Run(ExampleFiles.Rigid, "--payload", "11000", "--at", "4.2", "--raised", "tag");
        Assert.Equal("", error);
        Assert.Equal(1, code);
        Assert.Equal(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Loads", "rigid-tag-raised.txt")).ReplaceLineEndings("\n"), output);
    }

    [Fact]
    public void A_rigid_sensed_at_the_rear_says_that_steer_and_gross_are_known_by_place_only()
    {
        var (code, output, _) = Run(ExampleFiles.Rigid, "--pressure", "drive=480", "--pressure", "tag=380");
        Assert.Equal(0, code);
        Assert.Matches(@"Axle 1 \(steer\) .*cannot tell +place only", output);
        Assert.Matches(@"Axle 2 \(drive\) .*ok +own sensor", output);
        Assert.Matches(@"Gross .*place only", output);
        Assert.Contains("Known only through where the payload sits, not from pressure: axle 1 (steer) and the gross mass.", output, StringComparison.Ordinal);
        Assert.Contains("Least certain: axle 1 (steer)", output, StringComparison.Ordinal);
        Assert.Contains("where the payload sits, 9", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sensor_that_two_vehicles_share_must_be_named_with_its_vehicle()
    {
        var centre = ExampleFiles.Of("trailer-centre-axle.json");
        var (code, _, error) = Run(ExampleFiles.Rigid, centre, "--payload", "9000");
        Assert.Equal(2, code);
        Assert.Contains("Several vehicles have a load space: say which, RT-01=... or CA-08=....", error, StringComparison.Ordinal);
        Assert.NotEqual(2, Run(ExampleFiles.Rigid, centre, "--pressure", "RT-01/drive=400", "--pressure", "tag=300", "--pressure", "CA-08/bogie=300").Code);
    }

    [Fact]
    public void A_bare_trailer_is_known_by_place_only()
    {
        var (_, output, _) = Run(ExampleFiles.Tractor, Bare, "--pressure", "drive=600");
        Assert.Matches(@"Trailer bogie .*place only", output);
        Assert.Matches(@"Fifth wheel .*inferred", output);
    }

    [Fact]
    public void The_pressure_of_a_raised_axle_is_passed_over_and_alone_refused()
    {
        var (code, output, _) = Run(ExampleFiles.Rigid, "--raised", "tag", "--pressure", "drive=500", "--pressure", "tag=60");
        Assert.NotEqual(2, code);
        Assert.Contains("Sensor tag is passed over: its axle is raised or relieved", output, StringComparison.Ordinal);
        (code, _, var error) = Run(ExampleFiles.Rigid, "--raised", "tag", "--pressure", "tag=60");
        Assert.Equal(2, code);
        Assert.Contains("their pressure is no load", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_slip_is_told_at_once()
    {
        var (code, output, error) = Run(ExampleFiles.Rigid, "--pressure", "drvie=480", "--pressure", "tag=9000", "--pressure", "tag", "--raised", "drive", "--mode", "x", "--at", "5");
        Assert.Equal(2, code);
        Assert.Equal("", output);
        Assert.Equal("""
            --raised: found 'drive'. The axles with a lift are RT-01/tag.
            --mode: No vehicle here has several suspension modes.
            --at: It belongs to --payload: from pressures the place is inferred.
            --pressure: found 'drvie'. The sensors are RT-01/drive, RT-01/tag.
            --pressure: found '9000'. Right would be a number from -5 to 1600, with a point for decimals.
            --pressure: found 'tag'. Right would be SENSOR=KPA, for example drive=412.5.

            """.ReplaceLineEndings("\n"), error);
        Assert.Contains("State the load in one way", Run(ExampleFiles.Rigid).Error, StringComparison.Ordinal);
        Assert.Contains("found 'abroad'. Right would be national, international or unknown.", Run(ExampleFiles.Rigid, "--payload", "1", "--trip", "abroad").Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_configuration_that_cannot_be_is_refused_with_those_that_can()
    {
        var (code, output, error) = Run(ExampleFiles.Of("rigid-8x4-regulated-lift.json"), "--payload", "0");
        Assert.Equal(2, code);
        Assert.Equal("", output);
        Assert.Equal("--raised, --unloaded, --mode: found axle 5 (tag) down. With this load a suspension would have to pull. Possible: axle 5 (tag) raised (--raised tag).\n", error);
    }

    [Theory]
    [InlineData("-3")]
    [InlineData("20")]
    public void A_payload_centre_outside_the_load_space_is_refused_with_its_ends(string place)
    {
        var (code, _, error) = Run(ExampleFiles.Rigid, "--payload", "5000", "--at", place);
        Assert.Equal(2, code);
        Assert.Equal($"--at: found '{place}'. The load space of RT-01 reaches from 0.75 to 8.05 m: the payload's centre lies within it.\n", error);
    }

    [Theory]
    [InlineData("11.000", "The payload of RT-01 was stated as 11 kg: --payload takes kilograms, not tonnes.")]
    [InlineData("20000", "The payload of RT-01 is over the 15.2 t that its vehicle file permits (permitted_kg).")]
    public void An_odd_payload_is_taken_and_remarked_on(string payload, string remark) =>
        Assert.Contains(remark, Run(ExampleFiles.Rigid, "--payload", payload).Output, StringComparison.Ordinal);

    [Fact]
    public void A_least_share_is_missed_from_below_and_no_interval_ends_below_zero()
    {
        var (_, output, _) = Run(ExampleFiles.Rigid, "--pressure", "drive=5.6");
        Assert.Matches("Driving share .* min 25 % .*cannot tell", output);
        Assert.Contains("Payload: 0.0 t (0.0 to 0.0 t)", output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_help_teaches_with_examples_and_exit_codes()
    {
        var (code, output, _) = Run("--help");
        Assert.Equal(0, code);
        Assert.Contains("deploy/examples/rigid-6x2-tag.json --payload 11000 --at 4.2 --raised tag", output, StringComparison.Ordinal);
        Assert.Contains("Exit code: 0 nothing over, 1 something likely or surely over as it is, 2 bad input", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_continents_law_is_a_file_like_any_other()
    {
        var file = Path.Combine(Path.GetTempPath(), $"us-{Guid.NewGuid():N}.json");
        File.WriteAllBytes(file, AxleTelemetry.Messages.Limits.LimitSetFile.ShippedText(AxleTelemetry.Messages.Limits.LimitSetFile.UnitedStates));
        try
        {
            foreach (var command in (string[])["loads", "plan"])
            {
                var run = Invocation.Of(command, ExampleFiles.Of("tractor-4x2.json"), ExampleFiles.Of("semi-tridem-lift-first.json"), "--payload", "22000", "--limits", file);
                Assert.NotEqual(2, run.ExitCode);
                Assert.Contains("United States federal limits", run.Output);
                Assert.Contains("together", run.Output);
            }
        }
        finally
        {
            File.Delete(file);
        }
    }
}

using System.CommandLine;
using System.Text.Json;
using System.Xml.Linq;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Tests.Readme;

namespace AxleTelemetry.Service.Tests.Planning;

public sealed class PlanCommandTests
{
    private static (int Code, string Output, string Error) Run(params string[] arguments)
    {
        using StringWriter output = new(), error = new();
        var code = Root.Run(["plan", .. arguments], new InvocationConfiguration { Output = output, Error = error });
        return (code, output.ToString().ReplaceLineEndings("\n"), error.ToString().ReplaceLineEndings("\n"));
    }

    private static JsonElement Json(params string[] arguments) => JsonDocument.Parse(Run([.. arguments, "--format", "json"]).Output).RootElement;

    [Fact]
    public void A_rigid_reads_like_this()
    {
        var (code, output, error) = Run(ExampleFiles.Rigid, "--payload", "11000", "--centre", "4.2");
        Assert.Equal("", error);
        Assert.Equal(0, code);
        Golden.Holds("tests/AxleTelemetry.Service.Tests/Planning/rigid-tag.txt", output);
    }

    /// <summary>The picture that the README shows is what its command makes.</summary>
    [Fact]
    public void The_picture_of_the_readme_is_the_one_its_command_makes()
    {
        var line = Assert.Single(ReadmeText.CodeLines, l => l.StartsWith($"{ReadmeText.Program}plan ", StringComparison.Ordinal));
        string[] words = [.. ReadmeText.Words(line[ReadmeText.Program.Length..]).Select(w => w == "deploy/examples/rigid-6x2-tag.json" ? ExampleFiles.Rigid : w)];
        var (code, output, _) = Run([.. words[1..^2], "--format", "svg"]);
        Assert.Equal(0, code);
        Assert.Equal("svg", XDocument.Parse(output).Root!.Name.LocalName);
        Golden.Holds("docs/plan.svg", output);
    }

    /// <summary>The figures of the diagram and the verdicts on a load are two ways to the same answer: on the curve, within and beyond it.</summary>
    [Theory]
    [InlineData(2.0)]
    [InlineData(3.6)]
    [InlineData(4.5)]
    [InlineData(7.0)]
    public void A_little_under_the_curve_is_permitted_and_a_little_over_it_is_not(double centre)
    {
        var plan = Json(ExampleFiles.Rigid);
        foreach (var (i, lifts) in plan.GetProperty("configurations").EnumerateArray().Index())
        {
            var points = lifts.GetProperty("stretches").EnumerateArray().SelectMany(s => s.GetProperty("most_points").EnumerateArray())
                .Select(p => (X: p.GetProperty("centre_m").GetDouble(), P: p.GetProperty("payload_kg").GetDouble())).ToList();
            var right = points.First(p => p.X >= centre);
            var left = points.Last(p => p.X < centre);
            var most = left.P + (right.P - left.P) * (centre - left.X) / (right.X - left.X);
            Assert.True(Permitted(most - 60, centre, i) && !Permitted(most + 60, centre, i), $"{most:0} kg at {centre} m, position {i}");
        }
    }

    private static bool Permitted(double kilograms, double centre, int lifts) => Json(
            ExampleFiles.Rigid, "--payload", FormattableString.Invariant($"{kilograms:0}"), "--centre", FormattableString.Invariant($"{centre}"))
        .GetProperty("stages")[0].GetProperty("configurations")[lifts].GetProperty("permitted").GetBoolean();

    [Fact]
    public void Drops_from_the_rear_of_a_semi_trailer_fail_on_the_last_and_say_what_to_do()
    {
        string[] trip = [ExampleFiles.Tractor, ExampleFiles.SemiTrailer, "--trip", "national", "--drop", "8000@11", "--drop", "16000@3"];
        var (code, output, _) = Run(trip);
        Assert.Equal(1, code);
        Assert.Contains("All axles down: first fails after drop 1, not permitted: gross of TR-04", output, StringComparison.Ordinal);
        Assert.Matches("(?m)^After drop 1 .*16\\.0 t.*none is permitted\\.\n  (Take|Move) ", output);
        var stages = Json(trip).GetProperty("stages").EnumerateArray().ToList();
        Assert.Equal([24_000.0, 16_000, 0], stages.Select(s => s.GetProperty("payload_kg").GetDouble()));
        Assert.Equal(3.0, stages[1].GetProperty("centre_m").GetDouble());
        Assert.Equal(JsonValueKind.Null, stages[2].GetProperty("centre_m").ValueKind);
        Assert.NotEmpty(stages[1].GetProperty("remedies").EnumerateArray());
    }

    [Fact]
    public void Raising_loads_the_drive_axle_relieves_the_steer_axle_and_turns_tighter()
    {
        var (_, output, _) = Run(ExampleFiles.Rigid, "--payload", "12000", "--centre", "3.8");
        Assert.Matches(@"(?m)^Axle 3 \(tag\) raised: \d\.\d t onto the driving axle and 1\.\d t off the steer axle, against all axles down\.$", output);
        Assert.Matches(@"(?m)^Axle 3 \(tag\) relieved: ", output);
        Assert.Contains("may carry up to 14.95 t", output, StringComparison.Ordinal);
        var widths = Json(ExampleFiles.Rigid).GetProperty("configurations").EnumerateArray().Select(c => c.GetProperty("turning").GetProperty("swept_width_m").GetDouble()).ToList();
        Assert.True(widths[1] < widths[0]);
    }

    [Fact]
    public void What_is_stated_of_the_front_changes_the_turn()
    {
        double Width(params string[] more) => Json([ExampleFiles.Rigid, .. more]).GetProperty("configurations")[0].GetProperty("turning").GetProperty("swept_width_m").GetDouble();
        Assert.True(Width("--front-overhang", "1.9") > Width());
        Assert.True(Width("--width", "2.4") < Width());
    }

    [Fact]
    public void What_the_vehicle_file_says_of_its_outline_counts_where_nothing_else_is_stated()
    {
        var described = Path.GetTempFileName();
        try
        {
            File.WriteAllText(described, File.ReadAllText(ExampleFiles.Rigid).Replace("\"kind\": \"rigid\",", "\"kind\": \"rigid\", \"front_overhang_m\": 1.9, \"width_m\": 2.4,", StringComparison.Ordinal));
            double Width(params string[] arguments) => Json(arguments).GetProperty("configurations")[0].GetProperty("turning").GetProperty("swept_width_m").GetDouble();
            Assert.Equal(Width(ExampleFiles.Rigid, "--front-overhang", "1.9", "--width", "2.4"), Width(described));
            Assert.Equal(Width(ExampleFiles.Rigid), Width(described, "--front-overhang", "1.4", "--width", "2.55"));
        }
        finally
        {
            File.Delete(described);
        }
    }

    [Fact]
    public void Several_that_carry_are_told_apart()
    {
        string[] pair = [ExampleFiles.Rigid, ExampleFiles.Of("trailer-centre-axle.json")];
        Assert.Contains("--of: Right would be RT-01 or CA-08", Run(pair).Error, StringComparison.Ordinal);
        var plan = Json([.. pair, "--of", "CA-08", "--payload", "RT-01=6000", "--payload", "5000"]);
        Assert.Equal(6000, plan.GetProperty("others")[0].GetProperty("payload_kg").GetDouble());
        Assert.Equal(5000, plan.GetProperty("stages")[0].GetProperty("payload_kg").GetDouble());
    }

    [Fact]
    public void Every_slip_is_told_at_once_with_what_would_be_right()
    {
        var (code, _, error) = Run(ExampleFiles.Rigid, "--payload", "9t", "--centre", "4", "--drop", "4000", "--format", "pdf", "--width", "9", "--trip", "x");
        Assert.Equal(2, code);
        string[] fields = ["--payload", "--drop", "--format", "--width", "--trip"];
        Assert.All(fields, f => Assert.Matches($"(?m)^{f}: found '.*'. Right would be ", error));
    }

    [Theory]
    [InlineData("--centre: found '4'", "--centre", "4")]
    [InlineData("--centre: found '9'", "--payload", "5000", "--centre", "9")]
    [InlineData("--drop: found '6000@4'. Right would be at most 5000 kg", "--payload", "5000", "--drop", "6000@4")]
    [InlineData("--drop: found '3000@8'. Right would be drops whose places agree", "--payload", "5000", "--centre", "4", "--drop", "3000@8")]
    [InlineData("--payload: found 'XX'", "--payload", "XX=5000")]
    [InlineData("--out: A png", "--format", "png")]
    public void What_does_not_fit_together_is_told(string said, params string[] arguments)
    {
        var (code, _, error) = Run([ExampleFiles.Rigid, .. arguments]);
        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_png_is_written_and_a_file_that_cannot_be_is_told()
    {
        var folder = Directory.CreateTempSubdirectory("plan-");
        try
        {
            var file = Path.Combine(folder.FullName, "plan.png");
            var (code, output, error) = Run(ExampleFiles.Rigid, "--payload", "9000", "--out", file);
            if (error.Contains("No typeface", StringComparison.Ordinal)) Assert.Skip("No typeface is installed here.");
            Assert.Equal(0, code);
            Assert.Equal($"Written: {file}\n", output);
            Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], File.ReadAllBytes(file)[..4]);
            Assert.Contains("--out: found", Run(ExampleFiles.Rigid, "--out", Path.Combine(folder.FullName, "none", "plan.svg")).Error, StringComparison.Ordinal);
            Assert.Contains("--font: found", Run(ExampleFiles.Rigid, "--out", file, "--font", ExampleFiles.Rigid).Error, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_vehicle_can_be_planned(string name)
    {
        string[] files = name switch
        {
            _ when name.StartsWith("semi-", StringComparison.Ordinal) => [ExampleFiles.Tractor, ExampleFiles.Of(name)],
            _ when name.StartsWith("trailer-", StringComparison.Ordinal) => [ExampleFiles.Rigid, ExampleFiles.Of(name), "--of", "CA-08"],
            _ when name.StartsWith("tractor-", StringComparison.Ordinal) => [ExampleFiles.Of(name), ExampleFiles.SemiTrailer],
            _ => [ExampleFiles.Of(name)],
        };
        var (code, output, error) = Run(files);
        Assert.Equal("", error);
        Assert.InRange(code, 0, 1);
        Assert.Contains("not a certified weighing", output, StringComparison.Ordinal);
        XDocument.Parse(Run([.. files, "--format", "svg"]).Output);
    }

    public static TheoryData<string> Examples => new(Directory.EnumerateFiles(Path.GetDirectoryName(ExampleFiles.Rigid)!, "*.json").Select(f => Path.GetFileName(f)!).Order());
}

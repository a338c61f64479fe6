using System.CommandLine;
using System.Text.Json;
using System.Xml.Linq;
using AxleTelemetry.Service.Commands;

namespace AxleTelemetry.Service.Tests.Calibration;

public sealed class CalibrateCommandTests : IDisposable
{
    private const string Header = "weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note\n";

    private const string Good = Header
        + "W1,2026-03-02T06:14:05Z,T-101,drive,312.5,4010,platform,14980,\n"
        + "W2,2026-03-04T15:40:00+01:00,T-101,drive,688,7890,axle,,\"full, dry\"\n"
        + "W3,2026-03-09T07:00:00Z,T-101,drive,512,6110,platform,21900,\n"
        + "W5,2026-03-15T07:00:00Z,T-101,drive,733,8420,platform,26010,\n";

    private const string Bad = Good + "W4,2026-03-12T07:00:00Z,T-101,drive,604,8400,axle,,\n";

    private static readonly string[] Handbook = ["--kg-per-kpa", "10.3", "--unsprung-kg", "750", "--typical-kg", "9000"];

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("calibrate");

    public void Dispose() => _folder.Delete(recursive: true);

    private string Save(string text, string name = "tickets.csv")
    {
        var path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }

    private static (int Code, string Output, string Error) Run(params string[] arguments)
    {
        using StringWriter output = new(), error = new();
        var code = CalibrateCommand.Create().Parse(arguments).Invoke(new InvocationConfiguration { Output = output, Error = error });
        return (code, output.ToString(), error.ToString());
    }

    [Fact]
    public void Good_tickets_give_a_fit_with_its_intervals()
    {
        var (code, output, error) = Run(["--tickets", Save(Good), .. Handbook]);
        Assert.Equal(0, code);
        Assert.Equal("", error);
        Assert.Contains("T-101/drive, 4 tickets, version 2026-03-15/4", output, StringComparison.Ordinal);
        Assert.Contains("within the tickets", output, StringComparison.Ordinal);
        Assert.Contains("beyond the tickets", output, StringComparison.Ordinal);
        Assert.Contains("Plain least squares, without the handbook", output, StringComparison.Ordinal);
        Assert.DoesNotContain("suspicious", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bad_ticket_is_named_and_only_strict_makes_it_an_exit_code()
    {
        var file = Save(Bad);
        var (code, output, _) = Run(["--tickets", file, .. Handbook]);
        Assert.Equal(0, code);
        Assert.Contains("Ticket W4 (2026-03-12, 604 kPa, 8,400 kg) is 1,", output, StringComparison.Ordinal);
        Assert.Single(output.Split('\n'), line => line.StartsWith("Ticket W", StringComparison.Ordinal));
        Assert.Equal(1, Run(["--tickets", file, "--strict", .. Handbook]).Code);
        var without = Run(["--tickets", file, "--strict", "--without", "W4", .. Handbook]);
        Assert.Equal(0, without.Code);
        Assert.Contains("Left out: W4.", without.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_single_bad_ticket_is_held_against_the_handbook()
    {
        var file = Save(Header + "W1,2026-03-02T06:14:05Z,T-101,drive,600,9900,platform,26000,\n");
        Assert.Contains("above what the handbook leads to expect", Run(["--tickets", file, .. Handbook]).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_tickets_the_handbook_speaks_alone()
    {
        var (code, output, _) = Run(["--area-cm2", "450", "--bellows", "2", "--lever", "1.2", "--unsprung-kg", "750", "--typical-kg", "9000", "--date", "2030-01-01"]);
        Assert.Equal(0, code);
        Assert.Contains("11.013 kg/kPa", output, StringComparison.Ordinal);
        Assert.Contains("The handbook does not age.", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Json_carries_the_same_and_age_widens_it()
    {
        var file = Save(Bad);
        using var now = JsonDocument.Parse(Run(["--tickets", file, "--json", .. Handbook]).Output);
        using var later = JsonDocument.Parse(Run(["--tickets", file, "--json", "--date", "2029-03-02", .. Handbook]).Output);
        static double Variance(JsonDocument document) => document.RootElement.GetProperty("fit").GetProperty("gain_variance_kg2_per_kpa2").GetDouble();
        Assert.True(Variance(later) > Variance(now));
        Assert.Equal(5, now.RootElement.GetProperty("tickets").GetArrayLength());
        Assert.True(now.RootElement.GetProperty("tickets")[4].GetProperty("suspicious").GetBoolean());
        Assert.Equal(3, now.RootElement.GetProperty("levels").GetArrayLength());
    }

    [Fact]
    public void The_picture_is_well_formed_and_marks_the_suspicious_ticket_in_words()
    {
        var picture = Path.Combine(_folder.FullName, "fit.svg");
        Assert.Equal(0, Run(["--tickets", Save(Bad), "--svg", picture, .. Handbook]).Code);
        var texts = XDocument.Load(picture).Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value).ToList();
        Assert.Contains("T-101/drive: axle load from bellows pressure", texts);
        Assert.Contains("W4, suspicious", texts);
        Assert.Contains("Bellows pressure, kPa above atmosphere", texts);
        Assert.DoesNotContain("NaN", File.ReadAllText(picture), StringComparison.Ordinal);
    }

    [Fact]
    public void Names_that_XML_would_trip_over_are_escaped()
    {
        var picture = Path.Combine(_folder.FullName, "fit.svg");
        Run(["--tickets", Save(Header + "\"<W&1>\",2026-03-02T06:14:05Z,T-101,drive,600,9900,platform,26000,\n"), "--svg", picture, .. Handbook]);
        Assert.Contains(XDocument.Load(picture).Descendants(), element => element.Value == "<W&1>, suspicious");
    }

    [Fact]
    public void Every_wrong_option_and_every_wrong_field_is_told_at_once()
    {
        var options = Run("--unsprung-kg", "-4", "--kg-per-kpa", "x", "--lever", "2", "--date", "soon");
        Assert.Equal(2, options.Code);
        Assert.Equal(["--date", "--kg-per-kpa", "--lever", "--typical-kg", "--unsprung-kg"],
            options.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(' ')[0]).Order());
        var fields = Run(["--tickets", Save(Header + "W1,yesterday,T-101,drive,60x,9900,platform,,\nW2,2026-03-02T06:14:05Z,T-101,drive,600,9900,scale,,\n"), .. Handbook]);
        Assert.Equal(2, fields.Code);
        Assert.Equal(4, fields.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains(":3: method: found 'scale'. platform, axle or dynamic is right.", fields.Error, StringComparison.Ordinal);
        Assert.Equal("", fields.Output);
    }

    [Fact]
    public void A_file_of_several_circuits_asks_which()
    {
        var file = Save(Good + "W1,2026-03-02T06:14:05Z,T-101,tag,300,3900,platform,14980,\n");
        var (code, _, error) = Run(["--tickets", file, .. Handbook]);
        Assert.Equal(2, code);
        Assert.Contains("--circuit T-101/drive, --circuit T-101/tag", error, StringComparison.Ordinal);
        Assert.Equal(0, Run(["--tickets", file, "--circuit", "T-101/tag", .. Handbook]).Code);
        Assert.StartsWith("T-101/tag, 1 ticket", Run(["--tickets", file, "--circuit", "tag", .. Handbook]).Output, StringComparison.Ordinal);
        Assert.Equal(2, Run(["--tickets", file, "--circuit", "T-101/steer", .. Handbook]).Code);
        Assert.Equal(2, Run(["--tickets", file, "--circuit", "T-101/tag", "--without", "W9", .. Handbook]).Code);
    }

    [Fact]
    public void What_cannot_be_read_or_written_is_said()
    {
        Assert.Contains("There is no such file.", Run(["--tickets", Path.Combine(_folder.FullName, "none.csv"), .. Handbook]).Error, StringComparison.Ordinal);
        Assert.Contains("There is no ticket in it.", Run(["--tickets", Save(Header), .. Handbook]).Error, StringComparison.Ordinal);
        var unwritable = Run(["--svg", Path.Combine(_folder.FullName, "no", "such", "fit.svg"), .. Handbook]);
        Assert.Equal(2, unwritable.Code);
        Assert.Contains("cannot be written", unwritable.Error, StringComparison.Ordinal);
        var light = Run(["--tickets", Save(Header + "W1,2026-03-02T06:14:05Z,T-101,drive,20,700,axle,,\n"), .. Handbook]);
        Assert.Contains("more than the unsprung mass of 750 kg", light.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_example_in_the_help_text_works()
    {
        var help = CalibrateCommand.Create().Description!;
        var lines = help.Split('\n').Select(line => line.Trim()).ToList();
        var start = lines.FindIndex(line => line.StartsWith("weighing,", StringComparison.Ordinal));
        var command = string.Join(' ', lines.SkipWhile(line => !line.StartsWith("axletelemetry calibrate --tickets", StringComparison.Ordinal)).Take(2)).Split(' ').Skip(2)
            .Select(word => word == "tickets.csv" ? Save(string.Join('\n', lines.Skip(start).Take(3))) : word == "fit.svg" ? Path.Combine(_folder.FullName, word) : word);
        var (code, output, error) = Run([.. command.Where(word => word.Length > 0)]);
        Assert.Equal("", error);
        Assert.Equal(0, code);
        Assert.Contains("2 tickets", output, StringComparison.Ordinal);
        Assert.DoesNotContain("suspicious", output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_command_line_itself_ends_in_2_for_what_it_does_not_know() => Assert.Equal(2, Root.Run(["calibrate", "--bogus"]));

    [Fact]
    public void A_handbook_with_a_digit_too_many_is_doubted_and_a_right_one_is_not()
    {
        var tickets = Save(Good);
        Assert.DoesNotContain("Look at the handbook", Run(["--tickets", tickets, .. Handbook]).Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Look at the handbook", Run(["--tickets", Save(Bad), .. Handbook]).Output, StringComparison.Ordinal);
        var output = Run(["--tickets", Save(Good), "--kg-per-kpa", "103", .. Handbook[2..]]).Output;
        Assert.Contains("The tickets lie below the handbook, at about 0.10 times its sprung load.", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_day_before_all_tickets_is_not_said_to_widen_the_fit() =>
        Assert.Contains("Not widened: every ticket is later than 2025-01-01", Run(["--tickets", Save(Good), "--date", "2025-01-01", .. Handbook]).Output, StringComparison.Ordinal);

    [Fact]
    public void Foreign_bytes_do_not_reach_the_terminal() =>
        Assert.DoesNotContain("\u001b", Run(["--tickets", Save("\u001b[2J,kpa\n"), .. Handbook]).Error, StringComparison.Ordinal);
}

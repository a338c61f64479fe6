using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.LoadSheets;
using Spectre.Console;

namespace AxleTelemetry.Service.Tests.Loads;

/// <summary>Loads on a screen too narrow for their table.</summary>
public sealed class NarrowTerminalTests
{
    [Theory]
    [InlineData(60)]
    [InlineData(140)]
    public void Every_load_is_shown_with_its_interval_limit_and_source(int width)
    {
        var words = string.Join(' ', Print(width).Split(' ', '\n').Where(w => w.Length > 0));
        Assert.DoesNotContain("\u2026", words, StringComparison.Ordinal);
        foreach (var word in (string[])["Axle 1 (steer)", "Axle 2 (drive)", "Axle 3 (tag)", "Gross", "Driving share", "Annex I, 3.4", "papers: axle rating"])
            Assert.Contains(word, words, StringComparison.Ordinal);
        if (width == 60) Assert.Matches(@"Axle 2 \(drive\): \d+\.\d t \(\d+\.\d to \d+\.\d t\), limit 11\.5 t, margin ", words);
    }

    private static string Print(int width)
    {
        var input = Assert.IsType<InputResult.Loaded>(InputReader.Load(new InputRequest { VehicleFiles = [ExampleFiles.Rigid] })).Input;
        var space = input.Combination.Vehicles[0].LoadSpace!;
        var order = new LoadOrder(default, new LoadSource.Stated([(Mass.FromKilograms(5000), space.Centre)]));
        using var text = new StringWriter();
        var console = AnsiConsole.Create(new() { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
        console.Profile.Width = width;
        new LoadPrint(LoadDesk.Work(input, order)!, console).Write();
        return text.ToString();
    }
}

using System.Text;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Watching;
using Spectre.Console;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>What stands in the terminal in the middle of the shipped journey.</summary>
public class LiveTableTests
{
    [Fact]
    public void Loads_open_findings_with_their_remedy_strangers_and_counts_stand_in_the_table()
    {
        var text = Drawn("06:50:00");
        Assert.Contains("north/RT-01", text, StringComparison.Ordinal);
        Assert.Contains("rolling", text, StringComparison.Ordinal);
        Assert.Matches(@"\(O\) down axle 2 \(drive\) 16\.\d \+-\d\.\d of 11\.5 t, surely over", text);
        Assert.Contains(" ^  raised axle 3 (tag)", text, StringComparison.Ordinal);
        Assert.Contains("Lower axle 3 (tag)", text, StringComparison.Ordinal);
        Assert.Contains("2 refused", text, StringComparison.Ordinal);
        Assert.Contains("north/ST-06", text, StringComparison.Ordinal);
        Assert.Contains("not coupled", text, StringComparison.Ordinal);
        Assert.Contains("no description; 1 messages", text, StringComparison.Ordinal);
        Assert.Contains("of unknown vehicles 1. Ctrl-C ends.", text, StringComparison.Ordinal);
        Assert.Contains("certified weighbridge", text, StringComparison.Ordinal);
        // One load too many is one finding.
        Assert.DoesNotContain("Gross:", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_has_ended_is_gone_from_it() => Assert.DoesNotContain("Lower axle 3 (tag)", Drawn("07:12:00"), StringComparison.Ordinal);

    private static string Drawn(string until)
    {
        var convoy = new WatchedConvoy(wait: TimeSpan.FromSeconds(30));
        using var stream = File.OpenRead(ExampleFiles.Of("journey.ndjson"));
        foreach (var message in new RecordingReader(stream).Entries().OfType<RecordingEntry.Read>().Select(e => e.Message).TakeWhile(m => string.CompareOrdinal(m.Received!.Value.ToString(), $"2026-03-02T{until}.000Z") <= 0))
            convoy.SendAt(message.Topic.Replace("/example/", "/north/", StringComparison.Ordinal), Encoding.UTF8.GetString(message.Payload.Span), message.Received!.Value);
        foreach (var payload in (string[])["no json", "{}"]) convoy.Send("RT-01", "pressure", payload);
        convoy.Pressure("ST-06", 3000, "\"bogie\":300");
        convoy.Pressure("XX-99", 3000, "\"drive\":300");
        using var output = new StringWriter();
        var table = new LiveTable(output, "Limits: those of the test.");
        foreach (var happened in convoy.Events) table.Tell(happened);
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output), Ansi = AnsiSupport.No, ColorSystem = ColorSystemSupport.NoColors });
        console.Profile.Width = 400;
        console.Write(convoy.Look(table.Draw));
        return output.ToString();
    }
}

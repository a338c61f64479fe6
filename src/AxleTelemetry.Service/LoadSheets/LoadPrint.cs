using AxleTelemetry.Domain.Findings;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>A sheet for a terminal: frames, state by word and colour, sentences wrapped at words.</summary>
internal sealed class LoadPrint(LoadSheet sheet, IAnsiConsole console)
{
    private readonly LoadWords _words = new(sheet);

    public void Write()
    {
        foreach (var line in _words.Head()) console.WriteLine(line);
        foreach (var configuration in sheet.Configurations)
        {
            console.WriteLine();
            console.MarkupLine($"[bold]{Markup.Escape(_words.Title(configuration))}[/]");
            if (configuration.IsPossible) Rows(configuration);
        }

        console.WriteLine();
        Sentences(_words.Findings(), sheet.IsOver ? "bold" : "");
        Sentences(_words.Remedies(), "");
        console.WriteLine();
        Sentences(_words.Trust(), "");
        Sentences(_words.Notes(), "dim");
        Sentences(LoadWords.Cautions, "dim");
    }

    /// <summary>A terminal that is too narrow for the table gets a line for each thing: a table cut off would hide the loads.</summary>
    private void Rows(ConfigurationSheet configuration)
    {
        var table = Table(configuration);
        var options = RenderOptions.Create(console, console.Profile.Capabilities);
        if (((IRenderable)table).Measure(options, int.MaxValue).Max <= console.Profile.Width) console.Write(table);
        else Sentences(configuration.Rows.Select(row => LoadCells.Line(sheet, row)), "");
    }

    private Table Table(ConfigurationSheet configuration)
    {
        var table = new Table().Border(TableBorder.Simple);
        foreach (var (head, isNumber) in LoadCells.Columns(sheet))
            table.AddColumn(new TableColumn(head) { Alignment = isNumber ? Justify.Right : Justify.Left, NoWrap = head != "Limit from", Padding = new Padding(0, 0, 1, 0) });
        foreach (var row in configuration.Rows)
            table.AddRow(LoadCells.Of(sheet, row).Select((cell, i) => new Text(cell, i == 5 ? Look(row) : Style.Plain)));
        return table;
    }

    /// <summary>Colour never stands alone: the word beside it says the same.</summary>
    private static Style Look(LoadRow row) => row.Judged switch
    {
        [] => Style.Plain,
        [{ CannotTell: true }, ..] => new Style(Color.Blue),
        [{ Level: Level.Surely }, ..] => new Style(Color.Red, decoration: Decoration.Bold),
        [{ Level: Level.Likely }, ..] => new Style(Color.Red),
        [{ Level: Level.Near }, ..] => new Style(Color.Yellow),
        _ => Style.Plain,
    };

    private void Sentences(IEnumerable<string> sentences, string look)
    {
        foreach (var sentence in sentences)
            console.MarkupLine(look.Length == 0 ? Markup.Escape(sentence) : $"[{look}]{Markup.Escape(sentence)}[/]");
    }
}

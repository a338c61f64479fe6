namespace AxleTelemetry.Service.LoadSheets;

/// <summary>A sheet as plain aligned text, for files and pipes: one sentence to a line.</summary>
internal sealed class LoadPlain(LoadSheet sheet, TextWriter output)
{
    private readonly LoadWords _words = new(sheet);

    public void Write()
    {
        Lines(_words.Head());
        foreach (var configuration in sheet.Configurations)
        {
            output.WriteLine();
            output.WriteLine(_words.Title(configuration));
            if (configuration.IsPossible) Table(configuration);
        }

        output.WriteLine();
        Lines(_words.Findings());
        Lines(_words.Remedies());
        output.WriteLine();
        Lines(_words.Trust());
        Lines(_words.Notes());
        Lines(LoadWords.Cautions);
    }

    private void Table(ConfigurationSheet configuration)
    {
        var columns = LoadCells.Columns(sheet);
        string[][] cells = [[.. columns.Select(c => c.Head)], .. configuration.Rows.Select(r => LoadCells.Of(sheet, r).ToArray())];
        int[] widths = [.. Enumerable.Range(0, columns.Length).Select(c => cells.Max(row => row[c].Length))];
        foreach (var row in cells)
            output.WriteLine(("  " + string.Join("  ", row.Select((cell, c) => columns[c].IsNumber ? cell.PadLeft(widths[c]) : cell.PadRight(widths[c])))).TrimEnd());
    }

    private void Lines(IEnumerable<string> lines)
    {
        foreach (var line in lines) output.WriteLine(line);
    }
}

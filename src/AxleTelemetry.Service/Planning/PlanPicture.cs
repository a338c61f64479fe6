using AxleTelemetry.Domain.Planning;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Drawing;
using static System.FormattableString;

namespace AxleTelemetry.Service.Planning;

/// <summary>The load-distribution diagram as a picture: one panel for each position of the lifts, one scale for all.</summary>
internal sealed class PlanPicture
{
    private const double Width = 900, Left = 66, Right = 872, Top = 82, PanelHeight = 338, PlotTop = 56, PlotHeight = 200, Foot = 82;

    // Of the usual size, across the page.
    private const int MostLetters = 126;

    private readonly PlanSheet _sheet;
    private readonly PlanWords _words;
    private readonly Scene _scene;
    private readonly Scale _places;
    private readonly double _mostTonnes;

    private PlanPicture(PlanSheet sheet)
    {
        (_sheet, _words) = (sheet, new PlanWords(sheet));
        var space = sheet.Order.Body.Vehicle.LoadSpace!;
        _places = Scale.Exactly(space.Front.Metres, space.Rear.Metres, 10, (Left, Right));
        double[] tonnes = [1, .. sheet.Lifts.Select(l => (l.Diagram.Peak?.Kilograms ?? 0) / 1000), .. sheet.Stages.Select(s => s.Aboard.Kilograms / 1000), .. sheet.Edge.Select(e => e.Kilograms / 1000)];
        // Room above the curves for the names of what bounds them.
        _mostTonnes = 1.22 * tonnes.Max();
        _scene = new Scene((Width, Top + PanelHeight * sheet.Lifts.Length + Foot), (Title, Description), PlanLooks.All);
    }

    private string Now => _sheet.Order.Source is PlanSource.Live live ? $"; now {_words.Names.Lifts(live.Present)}, {live.Worth}" : "";

    private string Title => $"{_sheet.Order.Body.Vehicle.Id}: payload permitted by the place of its centre";

    private string Description => string.Join(' ', _sheet.Lifts.Select(l => l.Diagram.Peak is { } peak
        ? Invariant($"{Names.Begin(_words.Names.Lifts(l.Configuration))}: up to {peak.Kilograms / 1000:0.0} t.") : $"{Names.Begin(_words.Names.Lifts(l.Configuration))}: none."));

    public static Scene Of(PlanSheet sheet)
    {
        var picture = new PlanPicture(sheet);
        picture.Head();
        foreach (var (i, lifts) in sheet.Lifts.Index()) picture.Panel(lifts, Top + PanelHeight * i);
        picture.Key(Top + PanelHeight * sheet.Lifts.Length + 14);
        return picture._scene;
    }

    private void Head()
    {
        _scene.Text("title", (Left, 34), Title);
        _scene.Text("sub", (Left, 54), Shortened(_sheet.Order.Limits));
        _scene.Text("sub", (Left, 71), Shortened($"{string.Join(" + ", _sheet.Order.Combination.Vehicles.Select(v => v.Id))}. Load drawn: {PlanWords.Load(_sheet.Start.Aboard)}{Now}."));
    }

    private void Panel(PlannedLifts lifts, double top)
    {
        var peak = lifts.Diagram.Peak is { } most ? Invariant($"up to {most.Kilograms / 1000:0.0} t") : "no payload permitted";
        _scene.Text("head", (Left, top + 26), $"{Names.Begin(_words.Names.Lifts(lifts.Configuration))}: {peak}");
        if (_sheet.Order.Source is not PlanSource.Empty) _scene.Text("sub", (Left, top + 44), Shortened($"Load drawn: {_words.Verdict(_sheet.Start, lifts.Configuration)}."));
        var (upper, lower) = (top + PlotTop, top + PlotTop + PlotHeight);
        var plot = new PlanPlot(_scene, _places, Scale.Exactly(0, _mostTonnes, 5, (lower, upper)), _words.Names);
        plot.Frame();
        plot.Keep(_sheet);
        plot.Diagram(lifts.Diagram);
        plot.Stages(_sheet, lifts.Configuration);
        plot.Wheels(_sheet.Order, lifts.Configuration);
    }

    private void Key(double top)
    {
        (string Look, string Words)[] lines = [("most", "greatest payload, by what is named"), ("least", "least payload"), ("house", "rule of the house, no law")];
        var x = Left;
        foreach (var (look, words) in lines)
        {
            _scene.Line(look, (x, top), (x + 28, top));
            _scene.Text("text", (x + 34, top + 4), words);
            x += 62 + 6.6 * words.Length;
        }

        PlanPlot.Mark(_scene, (Left + 7, top + 22), true);
        _scene.Text("text", (Left + 34, top + 26), "load permitted so");
        PlanPlot.Mark(_scene, (Left + 169, top + 22), false);
        _scene.Text("text", (Left + 182, top + 26), $"not permitted{(_sheet.Order.Drops.IsEmpty ? "" : "; number: so many drops are behind")}{(_sheet.Edge.IsEmpty ? "" : "; ring: holds 95 %")}");
        foreach (var (i, caution) in PlanWords.Cautions.Index()) _scene.Text("sub", (Left, top + 46 + 16 * i), caution);
    }

    private static string Shortened(string text) => text.Length <= MostLetters ? text : $"{text[..(MostLetters - 3)]}...";
}

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Fleet;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace AxleTelemetry.Service.Watching;

/// <summary>A table kept up to date in a terminal: a row for each combination, then what belongs to none.</summary>
internal sealed class LiveTable(TextWriter output, string limits) : IDisplay
{
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(500);

    private readonly IAnsiConsole _console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output) });
    private readonly EventText _text = new();
    private readonly OpenFindings _open = new();
    private string _note = "";

    public void Tell(FleetEvent happened) => _open.Take(happened, _text.Of(happened));

    public void Note(string text) => _note = text;

    public Task ShowAsync(FleetWatch watch, CancellationToken cancel) =>
        _console.Live(watch.Look(Draw)).StartAsync(async context =>
        {
            while (!cancel.IsCancellationRequested)
            {
                context.UpdateTarget(watch.Look(Draw));
                await Task.Delay(Every, cancel).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }

            context.UpdateTarget(watch.Look(Draw));
        });

    public void End(WatchSummary summary) => SummaryText.Write(summary, output);

    /// <summary>The table as it stands.</summary>
    public IRenderable Draw(FleetLanes lanes)
    {
        var table = new Table().Border(TableBorder.Simple).Expand();
        foreach (var heading in (string[])["Vehicle", "Moves", "Axles", "Findings"]) table.AddColumn(heading);
        foreach (var unit in lanes.Units) table.AddRow(Row(unit, lanes));
        foreach (var trailer in lanes.Trailers.Where(t => t.Counts.Messages > 0 && t.Claims.At(t.Queue.Newest + 1) is null))
            table.AddRow(Cell(EventText.NameOf(trailer.Name)), Cell("not coupled"), Cell(""), Cell(UnitCounts.Text(trailer, lanes.Refusals)));
        foreach (var (name, messages) in lanes.Unknown.ByName.Take(5))
            table.AddRow(Cell(EventText.NameOf(name)), Cell("unknown"), Cell(""), Cell($"no description; {messages} messages"));
        return new Rows(table, new Text(Footer(lanes)));
    }

    private IRenderable[] Row(PoweredUnit unit, FleetLanes lanes)
    {
        var view = unit.Lane.View();
        var names = new Names(view.Combination);
        var axles = UnitText.Axles(view, names).Concat(UnitText.Sums(view)).Select(l => Styled(l.Text, l.Level)).Append(Markup.Escape(UnitText.Worth(view)));
        var findings = _open.Of(unit.Name).Select(f => Styled(f.Text, f.Level)).Append(Markup.Escape(UnitCounts.Text(unit, lanes.Refusals))).Where(t => t.Length > 0);
        var vehicle = string.Join("\n+ ", [EventText.NameOf(unit.Name), .. unit.Trailers.Select(t => t.Name.Id)]);
        var moves = UnitText.Moves(view.Movement) + (unit.Online == false ? "\noffline" : "") + (unit.StoppedBecause is null ? "" : "\nSTOPPED by a fault");
        return [Cell(vehicle), Cell(moves), new Markup(string.Join('\n', axles)), new Markup(string.Join('\n', findings))];
    }

    private string Footer(FleetLanes lanes)
    {
        var messages = FormattableString.Invariant($"Messages {lanes.Messages}, of unknown vehicles {lanes.Unknown.Messages}.");
        return string.Join('\n', ((string[])[$"{messages} Ctrl-C ends.", _note, $"{limits} {Sentences.Caution} {Sentences.LimitCaution}"]).Where(l => l.Length > 0));
    }

    private static Text Cell(string text) => new(text);

    private static string Styled(string text, Level level) => level switch
    {
        Level.Clear => Markup.Escape(text),
        Level.Near => $"[yellow]{Markup.Escape(text)}[/]",
        Level.Likely => $"[yellow bold]{Markup.Escape(text)}[/]",
        Level.Surely => $"[red bold]{Markup.Escape(text)}[/]",
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "Unknown level."),
    };
}

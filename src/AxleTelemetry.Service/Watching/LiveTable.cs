using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Sharding;
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
    public IRenderable Draw(Shard shard)
    {
        var state = shard.State;
        var table = new Table().Border(TableBorder.Simple).Expand();
        foreach (var heading in (string[])["Vehicle", "Moves", "Axles", "Findings"]) table.AddColumn(heading);
        foreach (var unit in state.History.Units.Select(state.Find).OfType<VehicleState>()) table.AddRow(Row(unit, state.Refusals));
        foreach (var trailer in Loose(state))
            table.AddRow(Cell(EventText.NameOf(trailer.Name)), Cell("not coupled"), Cell(""), Cell(UnitCounts.Text(trailer, state.Refusals)));
        foreach (var (name, messages) in state.Unknown.ByName.Take(5))
            table.AddRow(Cell(EventText.NameOf(name)), Cell("unknown"), Cell(""), Cell($"no description; {messages} messages"));
        return new Rows(table, new Text(Footer(shard)));
    }

    private static IEnumerable<VehicleState> Loose(ShardState state) => state.AllFollowed.Select(f => state.Find(f.Name)).OfType<VehicleState>()
        .Where(v => !v.Description.Kind.IsPowered() && v.Behind is null).OrderBy(v => v.Name);

    private IRenderable[] Row(VehicleState unit, RefusalCounter refusals)
    {
        var axles = unit.View is { } view
            ? UnitText.Axles(view, new Names(view.Combination)).Concat(UnitText.Sums(view)).Select(l => Styled(l.Text, l.Level)).Append(Markup.Escape(UnitText.Worth(view)))
            : [];
        var findings = _open.Of(unit.Name).Select(f => Styled(f.Text, f.Level)).Append(Markup.Escape(UnitCounts.Text(unit, refusals))).Where(t => t.Length > 0);
        var vehicle = string.Join("\n+ ", [EventText.NameOf(unit.Name), .. unit.Members.Skip(1).Select(m => m.Id)]);
        var moves = UnitText.Moves(unit.View?.Movement ?? Movement.Unknown) + (unit.Online == false ? "\noffline" : "") + (unit.StoppedBy is null ? "" : "\nSTOPPED by a fault");
        return [Cell(vehicle), Cell(moves), new Markup(string.Join('\n', axles)), new Markup(string.Join('\n', findings))];
    }

    private string Footer(Shard shard)
    {
        var messages = FormattableString.Invariant($"Messages {shard.Messages}, of unknown vehicles {shard.State.Unknown.Messages}.");
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

using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Watching;

/// <summary>One line for each thing that happens: time, vehicle, sentence. Of refusals the first of its kind from each vehicle; the rest are counted.</summary>
internal sealed class PlainLines(TextWriter output, TextWriter notes, string limits) : IDisplay
{
    private const int MostKinds = 10_000;

    private readonly EventText _text = new();
    private readonly HashSet<(VehicleName, RefusalReason)> _refused = [];

    public void Tell(FleetEvent happened)
    {
        if (happened is FleetEvent.Refused refused && !IsFirst(refused)) return;
        if (EventText.IsToldWithAnother(happened)) return;
        output.WriteLine($"{happened.At} {EventText.NameOf(happened.Vehicle)} {_text.Of(happened)}{Source(happened)}");
    }

    public void Note(string text) => notes.WriteLine(text);

    public Task ShowAsync(FleetWatch watch, CancellationToken cancel)
    {
        notes.WriteLine($"{limits} {Sentences.Caution} {Sentences.LimitCaution}");
        return Task.CompletedTask;
    }

    public void End(WatchSummary summary)
    {
        SummaryText.Write(summary, output);
        output.Flush();
    }

    /// <summary>Where the limit comes from, behind every line that says it is passed or may be.</summary>
    private static string Source(FleetEvent happened) => happened switch
    {
        FleetEvent.Said { Output: LaneOutput.Episode { Change: not EpisodeChange.Closed, Detail: FindingDetail.Excess excess } } => From(excess.Verdict.Margin.Source),
        FleetEvent.Revised { Row.Subject: EpisodeSubject.Limit limit, Change: not Revision.Ended } => From(limit.Source),
        _ => "",
    };

    private static string From(LimitSource source) => $" Limit from: {LimitText.Place(source)}.";

    private bool IsFirst(FleetEvent.Refused refused) =>
        _refused.Count < MostKinds && _refused.Add((refused.Vehicle, refused.Refusal.Reason));
}

using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Replaying;

/// <summary>What came of a recording, for people: loads as they stand at its end, every episode, counts, the digest.</summary>
internal sealed class ReplaySummary(Replay replay, TextWriter output)
{
    public void Write()
    {
        WriteLoads();
        WriteEpisodes();
        WriteCounts();
        output.WriteLine($"Digest: {replay.Store.Digest()}");
        output.WriteLine(Sentences.Caution);
        output.WriteLine(Sentences.LimitCaution);
    }

    private void WriteLoads()
    {
        foreach (var unit in replay.Shard.State.History.Units)
        {
            if (replay.Shard.State.Find(unit) is { } state) LoadsText.Write(state, output);
        }
    }

    private void WriteEpisodes()
    {
        var episodes = replay.Store.History.Select(row => Read(row.Bytes.AsSpan())).OfType<HistoryRow.Episode>().OrderBy(e => e.Key.At).ToList();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Episodes: {episodes.Count}"));
        foreach (var episode in episodes) output.WriteLine($"  {Line(episode)}");
    }

    private void WriteCounts()
    {
        var state = replay.Shard.State;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Messages: {replay.Shard.Messages}, samples: {replay.Shard.Samples}, received {replay.First?.ToString() ?? "never"} to {replay.Last}"));
        output.WriteLine($"Readings: {List(Readings())}");
        output.WriteLine($"Refused: {List(state.Refusals.All().SelectMany(r => r.Refusals.Counts).Concat(replay.Unreadable).GroupBy(c => c.Key).Select(g => (RefusalWords.Of(g.Key), g.Sum(c => c.Value))))}");
        output.WriteLine($"Vehicles nobody described: {List(state.Unknown.ByName.Select(u => ($"{u.Key.Fleet}/{u.Key.Id}", u.Value)))}");
        foreach (var (unit, why) in state.Stopped) output.WriteLine($"The lane of {unit} stopped: {why}");
    }

    private IEnumerable<(string, long)> Readings()
    {
        var counts = replay.Shard.State.Vehicles.Select(replay.Shard.State.History.CountsOf).ToList();
        return [("taken", counts.Sum(c => c.Taken)), ("repeated", counts.Sum(c => c.Repeated)), ("conflicting", counts.Sum(c => c.Conflicting)), ("late", counts.Sum(c => c.Late)), ("too late", counts.Sum(c => c.TooLate))];
    }

    private string Line(HistoryRow.Episode episode)
    {
        var key = episode.Key.Finding;
        var names = new Names(replay.Shard.State.Setups.Of(episode.Members).Combination);
        var about = key.Kind is FindingKind.Overload or FindingKind.CannotTell ? $", {names.Limited(key.Margin)}"
            : episode.Subject is EpisodeSubject.Idle idle ? $", {names.Axles(idle.Raised)}" : "";
        var until = episode.ClosedAt is { } closed ? closed.ToString() : "open";
        return $"{episode.Key.At} to {until} {episode.Key.Unit.Id} {SummaryText.Words(key.Kind)}{about}{Subject(episode)}";
    }

    private static string Subject(HistoryRow.Episode episode) => episode.Subject switch
    {
        EpisodeSubject.Limit limit => string.Create(CultureInfo.InvariantCulture,
            $": {SummaryWord(episode.Reached)}, {Tonnes(limit.Peak.Mean)} t (+-{Tonnes(limit.Peak.HalfWidth)}) over {Tonnes(limit.Scale)} t at {limit.PeakAt} ({limit.Source.Title}, {limit.Source.Clause})"),
        EpisodeSubject.Measured measured => string.Create(CultureInfo.InvariantCulture, $": {measured.Value:0.#} {measured.Unit}"),
        EpisodeSubject.Plain or EpisodeSubject.Idle or EpisodeSubject.DidNotAct => "",
        _ => throw new ArgumentOutOfRangeException(nameof(episode), episode.Subject, "Unknown subject."),
    };

    private static string SummaryWord(Level level) => level.ToString().ToLowerInvariant();

    private static string Tonnes(double kilograms) => (kilograms / 1000).ToString("0.0", CultureInfo.InvariantCulture);

    private static HistoryRow? Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from);
    }

    private static string List(IEnumerable<(string What, long Count)> counts)
    {
        var list = string.Join(", ", counts.Where(c => c.Count > 0).Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.What} {c.Count}")));
        return list.Length == 0 ? "none" : list;
    }
}

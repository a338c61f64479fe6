using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Watching;

/// <summary>One JSON object a line, the summary last.</summary>
internal sealed class JsonLines(TextWriter output, TextWriter notes) : IDisplay
{
    private static readonly JsonWriterOptions Readable = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private readonly EventText _text = new();
    private readonly ArrayBufferWriter<byte> _line = new(512);

    public void Tell(FleetEvent happened) => Write(json =>
    {
        json.WriteString("at", happened.At.ToString());
        json.WriteString("fleet", happened.Vehicle.Fleet);
        json.WriteString("vehicle", happened.Vehicle.Id);
        json.WriteString("event", Name(happened));
        if (happened is FleetEvent.Said { Output: LaneOutput.Episode episode } said) WriteEpisode(json, episode, said.Combination);
        if (happened is FleetEvent.Said { Output: LaneOutput.Provisional provisional, Combination: var now }) WriteFinding(json, (provisional.Key, provisional.Level), now);
        if (happened is FleetEvent.Revised revised) WriteRevised(json, revised);
        if (happened is FleetEvent.Refused refused) json.WriteString("reason", Key(RefusalWords.Of(refused.Refusal.Reason)));
        if (happened is FleetEvent.Coupled coupled) WriteList(json, "trailers", coupled.Trailers);
        json.WriteString("sentence", _text.Of(happened));
    });

    public void Note(string text) => notes.WriteLine(text);

    public Task ShowAsync(FleetWatch watch, CancellationToken cancel) => Task.CompletedTask;

    public void End(WatchSummary summary)
    {
        Write(json =>
        {
            json.WriteString("event", "summary");
            json.WriteNumber("messages", summary.Messages);
            json.WriteNumber("readings", summary.Readings);
            json.WriteNumber("taken", summary.Taken);
            json.WriteNumber("late", summary.Late);
            WriteCounts(json, "not_taken", summary.NotTaken);
            WriteCounts(json, "refused", summary.Refusals);
            WriteCounts(json, "episodes", summary.Episodes.Select(e => (Word(e.Kind), e.Count)));
            JsonLoads.Write(json, summary.Units);
        });
        output.Flush();
    }

    private static string Name(FleetEvent happened) => happened switch
    {
        FleetEvent.Said said => JsonNamingPolicy.SnakeCaseLower.ConvertName(said.Output.GetType().Name),
        _ => JsonNamingPolicy.SnakeCaseLower.ConvertName(happened.GetType().Name),
    };

    private static void WriteEpisode(Utf8JsonWriter json, LaneOutput.Episode episode, Combination combination)
    {
        WriteFinding(json, (episode.Key, episode.Level), combination);
        json.WriteString("change", Word(episode.Change));
        json.WriteString("since", episode.Since.ToString());
        json.WriteBoolean("told_with_another", episode.ToldWith is not null);
        if (episode.Detail is not FindingDetail.Excess excess) return;
        json.WriteNumber("load_kg", Math.Round(excess.Load.Mean, 1));
        json.WriteNumber("load_half_width95_kg", Math.Round(excess.Load.HalfWidth, 1));
        json.WriteNumber("excess_kg", Math.Round(excess.Verdict.Excess.Mean, 1));
        json.WriteNumber("excess_sd_kg", Math.Round(excess.Verdict.Excess.Sd, 1));
        WriteLimit(json, excess.Verdict.Margin);
    }

    private static void WriteRevised(Utf8JsonWriter json, FleetEvent.Revised revised)
    {
        WriteFinding(json, (revised.Finding.Key, revised.Finding.Level), revised.Combination);
        json.WriteString("change", Word(revised.Change));
        json.WriteString("since", revised.Finding.Since.ToString());
        if (revised.Finding.Ended is { } ended) json.WriteString("ended", ended.ToString());
        json.WriteBoolean("told_with_another", revised.Finding.ToldWith is not null);
    }

    /// <summary>A share is no mass: each has a name of its own.</summary>
    private static void WriteLimit(Utf8JsonWriter json, Margin margin)
    {
        var share = margin.Key.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare;
        json.WriteNumber(share ? "least_share" : "limit_kg", margin.Limit);
        json.WriteString("source", LimitText.Place(margin.Source));
        if (margin.Source.AsOf != DateOnly.MinValue) json.WriteString("edition", margin.Source.AsOf.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        json.WriteString("status", Word(margin.Source.Status));
    }

    /// <summary>What people read as words, for a program: <c>not_json</c>.</summary>
    private static string Key(string words) => words.Replace(' ', '_').ToLowerInvariant();

    private static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());

    private static void WriteFinding(Utf8JsonWriter json, (FindingKey Key, Level Level) finding, Combination combination)
    {
        var key = finding.Key;
        json.WriteString("finding", Word(key.Kind));
        if (key.Kind is FindingKind.Overload or FindingKind.CannotTell) json.WriteString("limited", Word(key.Margin.Kind));
        json.WriteString("about", new SubjectWords(new PartNames(combination)).Of(key));
        if (AxleOf(key) is { } axle) JsonLoads.WriteName(json, combination.Axles[axle], combination);
        json.WriteString("level", Word(finding.Level));
    }

    private static int? AxleOf(FindingKey key) => key.Kind switch
    {
        FindingKind.Overload or FindingKind.CannotTell => key.Margin.Kind is MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating ? key.Margin.Element : null,
        FindingKind.LoweredForNothing or FindingKind.RaisedForNothing or FindingKind.AutomaticLoweringDidNotAct or FindingKind.MovingOffAid or FindingKind.LiftDisputed or FindingKind.AxleRelieved => key.Element,
        FindingKind.PressureStep or FindingKind.SensorDrifts or FindingKind.SensorSilent or FindingKind.SensorStill or FindingKind.SplitDeparts
            or FindingKind.SuspensionOff or FindingKind.Carried or FindingKind.NotPossible or FindingKind.PayloadImplausible or FindingKind.OverAcrossBorder or FindingKind.CountryUndecided or FindingKind.TrailerClaimedTwice or FindingKind.TrailerUndescribed or FindingKind.TrailerUnclaimed => null,
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown finding."),
    };

    private static void WriteList(Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values) json.WriteStringValue(value);
        json.WriteEndArray();
    }

    private static void WriteCounts(Utf8JsonWriter json, string name, IEnumerable<(string What, long Count)> counts)
    {
        json.WriteStartObject(name);
        foreach (var (what, count) in counts) json.WriteNumber(Key(what), count);
        json.WriteEndObject();
    }

    private void Write(Action<Utf8JsonWriter> write)
    {
        _line.ResetWrittenCount();
        using (var json = new Utf8JsonWriter(_line, Readable))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }

        output.WriteLine(Encoding.UTF8.GetString(_line.WrittenSpan));
    }
}

using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Languages;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Telling;

/// <summary>A change of an alert as the bytes that the journal keeps and that are sent to listeners unchanged.</summary>
internal static class AlertChangeJson
{
    /// <summary>Writes a change.</summary>
    /// <param name="change">The change.</param>
    /// <param name="combination">The vehicles it is about, as they were; <c>null</c> where they are not known: parts are then named by their place.</param>
    /// <param name="usual">For a silent vehicle: its longest usual silence; <c>null</c> where it is not known yet.</param>
    public static byte[] Write(AlertChange change, Combination? combination, TimeSpan? usual = null) =>
        JsonSerializer.SerializeToUtf8Bytes(Document(change, combination, usual), JsonText.Options);

    /// <summary>Reads a change; <c>null</c> for bytes that are none.</summary>
    public static AlertChangeDocument? Read(ReadOnlySpan<byte> bytes)
    {
        try
        {
            return JsonSerializer.Deserialize<AlertChangeDocument>(bytes, JsonText.Options);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>What the bytes hold.</summary>
    public static AlertChangeDocument Document(AlertChange change, Combination? combination, TimeSpan? usual = null)
    {
        var subjects = new SubjectWords(new PartNames(combination));
        return new AlertChangeDocument
        {
            Id = change.Id.ToString(),
            Number = change.Number,
            At = change.At,
            Fleet = change.Id.Vehicle.Fleet,
            Vehicle = change.Id.Vehicle.Id,
            Subject = change.Id.Subject.ToString(),
            About = subjects.Of(change.Id.Subject),
            Since = change.Id.Since,
            Cause = CauseOf(change.Cause),
            Happened = new CauseWords(subjects).Of(change.Cause),
            Contact = ContactOf(change.Cause) is { } contact ? ContactDocument.Of(contact) : null,
            State = StateDocument.Of(change.State),
            Priority = JsonText.Word(change.Priority),
            Rings = change.Rings,
            Level = JsonText.Word(change.Level),
            Count = change.Count,
            Figures = FiguresDocument.Of(change.Figures),
            With = [.. change.With.Select(subjects.Of)],
            Sentence = Sentence(change, subjects, combination, usual),
            Remedy = !Closes(change) && change.Episode is { } episode && combination is not null && subjects.IsOf(episode.Key) ? new Sentences(combination).RemedyOf(episode) : null,
            InOtherLanguages = InOtherLanguages(change, combination, usual),
            Source = string.Create(CultureInfo.InvariantCulture, $"{change.Source.Batch}.{change.Source.Row}"),
        };
    }

    // A fault in a second language must not keep the alert from being told in the first; who reads the second is told in that then.
    private static ImmutableSortedDictionary<string, AlertWords>? InOtherLanguages(AlertChange change, Combination? combination, TimeSpan? usual)
    {
        try
        {
            return ImmutableSortedDictionary<string, AlertWords>.Empty.Add("de", new GermanAlerts(combination).Of(change, usual));
        }
        catch (Exception unworded) when (unworded is ArgumentException or FormatException or IndexOutOfRangeException or InvalidOperationException or NullReferenceException)
        {
            return null;
        }
    }

    private static string Sentence(AlertChange change, SubjectWords subjects, Combination? combination, TimeSpan? usual)
    {
        // An episode that outlived a coupling may be about parts that these vehicles do not have.
        if (change.Episode is { } episode && combination is not null && subjects.IsOf(episode.Key))
        {
            // What a second run found of an episode that is over by now.
            var over = Closes(change) && episode.Change != EpisodeChange.Closed ? "Over by now. While it held: " : "";
            return over + new Sentences(combination).Of(episode);
        }

        if (change.Id.Subject.Finding is { } key) return Closes(change) ? $"Ended: {subjects.Of(key)}." : subjects.Sentence(key, change.Level, change.Figures);
        return Closes(change) ? $"Ended: {change.Id.Vehicle.Id} is heard again."
            : AlertSentences.Silent(change.Id.Vehicle, TimeSpan.FromSeconds(Math.Max(0, change.At.SecondsSince(change.Id.Since))), usual);
    }

    private static bool Closes(AlertChange change) => change.State.Behind() is AlertState.ReturnedUnacknowledged or AlertState.Unstated or AlertState.Normal;

    private static Contact? ContactOf(AlertCause cause) => cause switch
    {
        AlertCause.Reached reached => reached.Contact,
        AlertCause.NotReached missed => missed.Contact,
        _ => null,
    };

    private static string CauseOf(AlertCause cause) => cause is AlertCause.Acted acted ? Name(acted.Action) : Name(cause);

    private static string Name(object of) => JsonNamingPolicy.SnakeCaseLower.ConvertName(of.GetType().Name);
}

using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Watching;

/// <summary>What readings that came late changed, in sentences. The remedy is not at hand by then: it belonged to the moment.</summary>
internal static class RevisedText
{
    public static string Of(FleetEvent.Revised revised)
    {
        var about = new SubjectWords(new PartNames(revised.Combination)).Of(revised.Finding.Key);
        var sentence = revised.Row is { } row ? EpisodeDocument.Of(row, revised.Combination).Sentence : $"{Names.Begin(about)}.";
        return revised.Change switch
        {
            Revision.Found => $"{sentence} Found with readings that came late.",
            Revision.FoundEnded => $"{sentence} Found with readings that came late; ended at {revised.Finding.Ended}.",
            Revision.Levelled => $"{sentence} So with readings that came late.",
            Revision.Ended => $"Ended, as readings that came late say: {about}.",
            Revision.GoesOn => $"Goes on, as readings that came late say: {about}.",
            Revision.Withdrawn => $"Withdrawn, as readings that came late say: {about}.",
            _ => throw new ArgumentOutOfRangeException(nameof(revised), revised.Change, "Unknown change."),
        };
    }
}

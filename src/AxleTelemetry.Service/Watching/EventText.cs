using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Watching;

/// <summary>What happens in a fleet, in sentences.</summary>
internal sealed class EventText
{
    private readonly Dictionary<VehicleName, (Combination Combination, Sentences Sentences)> _sentences = [];

    /// <summary>One sentence or two.</summary>
    public string Of(FleetEvent happened) => happened switch
    {
        FleetEvent.Said said => SentencesOf(said.Vehicle, said.Combination).Of(said.Output),
        FleetEvent.Revised revised => RevisedText.Of(revised),
        FleetEvent.Coupled { Trailers: [] } => "Drives solo.",
        FleetEvent.Coupled coupled => $"Pulls {string.Join(", then ", coupled.Trailers)}.",
        FleetEvent.Refused refused => $"Refused: {refused.Refusal}",
        FleetEvent.Unknown => "Unknown vehicle: no description was given. Its messages are counted only.",
        FleetEvent.Stopped stopped => $"Stopped by a fault of this program, please report it: {stopped.Reason}",
        _ => throw new ArgumentOutOfRangeException(nameof(happened), happened, "Unknown event."),
    };

    /// <summary>True for a limit that is named in another's sentence: one load too many is told once.</summary>
    public static bool IsToldWithAnother(FleetEvent happened) => happened
        is FleetEvent.Said { Output: LaneOutput.Episode { ToldWith: not null } or LaneOutput.Provisional { ToldWith: not null } }
        or FleetEvent.Revised { Finding.ToldWith: not null };

    /// <summary>Fleet and vehicle as one word; a dash for a topic that names none.</summary>
    public static string NameOf(VehicleName vehicle) => string.IsNullOrEmpty(vehicle.Id) ? "-" : $"{vehicle.Fleet}/{vehicle.Id}";

    private Sentences SentencesOf(VehicleName vehicle, Combination combination)
    {
        if (_sentences.TryGetValue(vehicle, out var known) && known.Combination == combination) return known.Sentences;
        var sentences = new Sentences(combination);
        _sentences[vehicle] = (combination, sentences);
        return sentences;
    }
}

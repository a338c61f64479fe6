using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Service.Fleet;

namespace AxleTelemetry.Service.Watching;

/// <summary>The sentence of every finding that is open, as last told.</summary>
internal sealed class OpenFindings
{
    private readonly Dictionary<VehicleName, SortedDictionary<(int Order, string Key), (Level Level, string Text)>> _open = [];

    /// <summary>Takes what happened, with its sentence.</summary>
    public void Take(FleetEvent happened, string text)
    {
        if (happened is not FleetEvent.Said said) return;
        if (!_open.TryGetValue(said.Vehicle, out var open)) _open[said.Vehicle] = open = [];
        switch (said.Output)
        {
            case LaneOutput.Episode { Change: EpisodeChange.Closed } closed:
                open.Remove((0, closed.Key.ToString()));
                break;
            case LaneOutput.Episode episode:
                open[(0, episode.Key.ToString())] = (episode.Level, text);
                break;
            case LaneOutput.Provisional provisional:
                open[(1, provisional.Key.ToString())] = (provisional.Level, text);
                break;
            case LaneOutput.LoadBegan or LaneOutput.LoadGoesOn:
                foreach (var warned in open.Keys.Where(k => k.Order == 1).ToArray()) open.Remove(warned);
                break;
            case LaneOutput.Configured:
                break;
            default:
                throw new InvalidOperationException("An output that nobody handles.");
        }
    }

    /// <summary>What is open of a vehicle, overloads that are sure first.</summary>
    public IEnumerable<(Level Level, string Text)> Of(VehicleName vehicle) =>
        _open.TryGetValue(vehicle, out var open) ? open.Values.OrderByDescending(f => f.Level) : [];
}

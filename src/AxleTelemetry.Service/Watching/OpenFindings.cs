using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Service.Watching;

/// <summary>The sentence of every finding that is open, as last told. One that was told with another shows only once that other has ended.</summary>
internal sealed class OpenFindings
{
    private readonly Dictionary<VehicleName, SortedDictionary<(int Order, string Key), Open>> _open = [];

    /// <summary>Takes what happened, with its sentence.</summary>
    public void Take(FleetEvent happened, string text)
    {
        if (happened is not (FleetEvent.Said or FleetEvent.Revised)) return;
        if (!_open.TryGetValue(happened.Vehicle, out var open)) _open[happened.Vehicle] = open = [];
        if (happened is FleetEvent.Revised revised) Take(revised, text, open);
        if (happened is FleetEvent.Said said) Take(said.Output, text, open);
    }

    /// <summary>What is open of a vehicle, overloads that are sure first.</summary>
    public IEnumerable<(Level Level, string Text)> Of(VehicleName vehicle)
    {
        if (!_open.TryGetValue(vehicle, out var open)) return [];
        return open.Where(f => f.Value.ToldWith is not { } lead || !open.ContainsKey((f.Key.Order, lead)))
            .Select(f => (f.Value.Level, f.Value.Text)).OrderByDescending(f => f.Level);
    }

    private static void Take(FleetEvent.Revised revised, string text, SortedDictionary<(int Order, string Key), Open> open)
    {
        var key = (0, revised.Finding.Key.ToString());
        if (revised.Change is Revision.Withdrawn || revised.Finding.Ended is not null) open.Remove(key);
        else open[key] = new(revised.Finding.Level, text, revised.Finding.ToldWith?.ToString());
    }

    private static void Take(LaneOutput output, string text, SortedDictionary<(int Order, string Key), Open> open)
    {
        switch (output)
        {
            case LaneOutput.Episode { Change: EpisodeChange.Closed } closed:
                open.Remove((0, closed.Key.ToString()));
                break;
            case LaneOutput.Episode episode:
                open[(0, episode.Key.ToString())] = new(episode.Level, text, episode.ToldWith?.ToString());
                break;
            case LaneOutput.Provisional provisional:
                open[(1, provisional.Key.ToString())] = new(provisional.Level, text, provisional.ToldWith?.ToString());
                break;
            case LaneOutput.LoadBegan or LaneOutput.LoadGoesOn:
                foreach (var warned in open.Keys.Where(k => k.Order == 1).ToArray()) open.Remove(warned);
                break;
            case LaneOutput.Configured or LaneOutput.Accounted:
                break;
            default:
                throw new InvalidOperationException("An output that nobody handles.");
        }
    }

    private sealed record Open(Level Level, string Text, string? ToldWith);
}

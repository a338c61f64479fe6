using System.Collections.Immutable;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Settings;

/// <summary>The fleets that a settings file has, for the places that name one.</summary>
internal sealed class FleetNames(Node root, Problems problems)
{
    /// <summary>Every fleet written, good or not, so that a mistake in a fleet is not told again where it is named.</summary>
    public ImmutableArray<string> All { get; } = root.KeysOf("fleets");

    /// <summary>True where the fleet exists; else a problem.</summary>
    public bool Refer(string fleet, string path)
    {
        if (All.Contains(fleet)) return true;
        var meant = Nearest.To(fleet, All) is { } near ? $" Did you mean '{near}'?" : "";
        problems.Add(ProblemKind.NoSuchFleet, path, $"'{fleet}'", $"No fleet has that name. Fleets are {string.Join(", ", All)}.{meant}");
        return false;
    }
}

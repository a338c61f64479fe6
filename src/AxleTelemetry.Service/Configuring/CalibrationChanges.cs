using AxleTelemetry.Domain.Calibration;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Compares the calibrations of a fleet before and after.</summary>
internal static class CalibrationChanges
{
    public static IEnumerable<ChangeItem> Between(ConfiguredFleet before, ConfiguredFleet after)
    {
        var circuits = before.Histories.Concat(after.Histories).Select(h => h.Circuit).Distinct()
            .OrderBy(c => c.Vehicle, StringComparer.Ordinal).ThenBy(c => c.Sensor, StringComparer.Ordinal);
        return circuits.SelectMany(circuit => Between(after.Name, before.History(circuit), after.History(circuit)));
    }

    private static IEnumerable<ChangeItem> Between(string fleet, CalibrationHistory before, CalibrationHistory after)
    {
        foreach (var version in after.Versions)
        {
            if (before.Versions.FirstOrDefault(v => v.Id == version.Id) is not { } old) yield return new ChangeItem.CalibrationAdded(fleet, version);
            else if (old.Fit != version.Fit || old.ValidFrom != version.ValidFrom) yield return new ChangeItem.CalibrationCorrected(fleet, version);
        }

        foreach (var gone in before.Versions.Where(v => after.Versions.All(now => now.Id != v.Id)))
            yield return new ChangeItem.CalibrationRemoved(fleet, gone);
    }
}

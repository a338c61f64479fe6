using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Configuring;

/// <summary>Holds access rules against the devices and vehicles there are. What is missing may come later, so nothing here is an error.</summary>
internal static class AccessCheck
{
    public static IEnumerable<InputProblem> Run(ImmutableArray<AccessRule> rules, DeviceCredentials devices, FleetConfiguration fleets, string settings)
    {
        for (var i = 0; i < rules.Length; i++)
        {
            var (rule, path) = (rules[i], FormattableString.Invariant($"$.embedded_broker.access[{i}]"));
            if (rule.User is { } user && !devices.Names.Contains(user))
                yield return new(settings, path + ".user", $"'{user}'", "No device of the credentials file has that name.");
            if (rule.Vehicle is { } vehicle && fleets.Find(rule.Fleet)?.Roster.Find(vehicle) is null)
                yield return new(settings, path + ".vehicle", $"'{vehicle}'", $"No vehicle of the fleet '{rule.Fleet}' has that id.");
        }
    }
}

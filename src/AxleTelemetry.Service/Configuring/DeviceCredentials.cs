using System.Collections.Immutable;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Configuring;

/// <summary>The devices that may connect to the broker in this process, from a file with NAME:PASSWORD on each line. Empty lines and lines from # on are passed over.</summary>
internal sealed class DeviceCredentials
{
    private const string Rule = $"A line is NAME:PASSWORD. A name is {Id.Rule}. A password has at least 8 characters.";
    private const int LeastPassword = 8;
    private static readonly Secret Nobody = new("");
    private readonly ImmutableDictionary<string, Secret> _devices;

    private DeviceCredentials(ImmutableDictionary<string, Secret> devices) => _devices = devices;

    /// <summary>Names of the devices.</summary>
    public IEnumerable<string> Names => _devices.Keys.Order(StringComparer.Ordinal);

    /// <summary>Reads a text; each wrong line is told by its number alone. <c>null</c> where any is wrong.</summary>
    public static DeviceCredentials? Parse(string text, Action<int, string> wrong)
    {
        var devices = ImmutableDictionary.CreateBuilder<string, Secret>(StringComparer.Ordinal);
        var (number, good) = (0, true);
        foreach (var line in text.TrimStart('\uFEFF').Split('\n').Select(l => l.TrimEnd('\r')))
        {
            number++;
            if (line.Length == 0 || line[0] == '#') continue;
            if (Fault(line, devices) is not { } fault) continue;
            wrong(number, fault);
            good = false;
        }

        if (good && devices.Count == 0) wrong(number, "At least one device is needed. " + Rule);
        return good && devices.Count > 0 ? new DeviceCredentials(devices.ToImmutable()) : null;
    }

    /// <summary>True for a known name with its password.</summary>
    public bool Accepts(string name, ReadOnlySpan<byte> password)
    {
        var known = _devices.TryGetValue(name, out var secret);
        // Compared for an unknown name too: the time taken does not tell which names exist.
        return (secret ?? Nobody).Matches(password) && known;
    }

    /// <summary>True where both hold the same devices with the same passwords, or neither is there.</summary>
    public static bool Same(DeviceCredentials? one, DeviceCredentials? other) => one is null || other is null
        ? one == other
        : one._devices.Count == other._devices.Count && one._devices.All(d => Secret.Same(d.Value, other._devices.GetValueOrDefault(d.Key)));

    private static string? Fault(string line, ImmutableDictionary<string, Secret>.Builder devices)
    {
        var colon = line.IndexOf(':');
        if (colon < 0 || !Id.IsValid(line.AsSpan(0, colon)) || line.Length - colon - 1 < LeastPassword) return Rule;
        return devices.TryAdd(line[..colon], new Secret(line[(colon + 1)..])) ? null : "The device of this line stands above already. Each stands once.";
    }
}

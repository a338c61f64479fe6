using System.Collections.Immutable;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Receiving;

/// <summary>Who may connect to the embedded broker, and to what: a device sends for the vehicles that its rules name, and reads the advice for them.</summary>
internal sealed class AccessList(DeviceCredentials devices, ImmutableArray<AccessRule> rules)
{
    /// <summary>Whether it is a device of ours. Its client id must be its name: else it could end another's session.</summary>
    public bool MayConnect(string? user, ReadOnlySpan<byte> password, string? clientId) => user is not null && devices.Accepts(user, password) && clientId == user;

    /// <summary>Whether a device may publish there.</summary>
    public bool MaySend(string? user, string topic) => UpTopic.Matches(topic) && Concerns(user, topic, topic[(topic.LastIndexOf('/') + 1)..]);

    /// <summary>Whether a device may subscribe to that.</summary>
    public bool MayRead(string? user, string filter) => Concerns(user, filter, "advice");

    private bool Concerns(string? user, string topic, string last)
    {
        if (user is null || !topic.StartsWith(Topic.Root, StringComparison.Ordinal)) return false;
        var levels = topic[Topic.Root.Length..].Split('/');
        // A wildcard is no id, so no rule allows it.
        return levels.Length == 3 && levels[2] == last && Id.IsValid(levels[0]) && Id.IsValid(levels[1]) && rules.Any(r => r.Allows(user, levels[0], levels[1]));
    }
}
